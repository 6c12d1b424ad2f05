namespace Meltwise.Statistics.Distributions;

/// <summary>Σ_j Pois(j; m) · tail_j, summed outward from its largest term.</summary>
/// <remarks>The terms have one peak in j, because both factors are log-concave in j. <b>Source.</b> [BentonKrishnamoorthy2003].</remarks>
internal static class PoissonMixture
{
    /// <summary>Both tails of the mixture; each is a sum of positive terms.</summary>
    public static (double Lower, double Upper) Tails(double mean, Func<int, (double Lower, double Upper)> component)
    {
        if (mean <= 0) return component(0);
        double lower = Sum(mean, j => component(j).Lower);
        if (lower < 0.5) return (lower, 1 - lower);
        double upper = Sum(mean, j => component(j).Upper);
        return (1 - upper, upper);
    }

    private static double Sum(double mean, Func<int, double> tail)
    {
        double Term(int j) => (j == 0 ? Math.Exp(-mean) : SaddlePointTerms.Poisson(j, mean)) * tail(j);

        int peak = Peak(Term, (int)mean);
        double sum = 0;
        for (int j = peak; j >= 0; j--)
            if (!Add(ref sum, Term(j))) break;
        for (int j = peak + 1; ; j++)
            if (!Add(ref sum, Term(j))) break;
        return sum;
    }

    private static bool Add(ref double sum, double term)
    {
        sum += term;
        return term > sum * 1e-17;
    }

    private static int Peak(Func<int, double> term, int start)
    {
        int at = start, step = Math.Max(1, start / 4);
        double best = term(at);
        while (step > 0)
        {
            double up = term(at + step), down = at >= step ? term(at - step) : -1;
            if (up > best) (at, best) = (at + step, up);
            else if (down > best) (at, best) = (at - step, down);
            else step /= 2;
        }
        return at;
    }
}
