using MathNet.Numerics;

namespace Meltwise.Statistics.ScatterLaw;

/// <summary>How many degrees of freedom the law may lend to a lot's own variance.</summary>
/// <remarks>
/// <para><b>Model.</b> v/v̂ of the groups follows a scaled F on ν and d: the true group variances scatter about the law like an inverse chi-squared with d degrees of freedom.</para>
/// <para><b>Formula.</b> d is the smallest value in 2.1..1000 whose log likelihood Σ[lnΓ((ν+d)/2) − lnΓ(d/2) − (ν/2)ln((d−2)v̂) − ((ν+d)/2)ln(1 + νv/((d−2)v̂))] is within 0.82 of its maximum
/// (the lower 90 % limit, because the estimate itself is often infinite); lent q = 1/(1/d + 1/Σν).</para>
/// <para><b>Limits.</b> To be lent only with 10 groups and Σν of 30; it assumes that the new lot scatters like the bench.</para>
/// <para><b>Source.</b> [Smyth2004] for the scaled F.</para>
/// </remarks>
public static class LentDegreesOfFreedom
{
    private const double Lowest = 0.1, Highest = 998, Drop = 0.82;
    private const int Steps = 240;

    /// <summary>Lower limit of the prior degrees of freedom d.</summary>
    public static double PriorLowerLimit(IReadOnlyList<ScatterGroup> groups, GammaVarianceLaw law)
    {
        (Func<double, double> At, double from, double width, double[] values) = Scan(groups, law);
        int top = Array.IndexOf(values, values.Max());
        double maximum = top is 0 or Steps ? values[top] : Peak(At, from + (top - 1) * width, from + (top + 1) * width);
        int first = Array.FindIndex(values, v => v >= maximum - Drop);
        if (first == 0) return 2 + Lowest;
        double low = from + (first - 1) * width, high = from + first * width;
        for (int i = 0; i < 60 && high - low > 1e-14; i++)
        {
            double middle = 0.5 * (low + high);
            if (At(middle) >= maximum - Drop) high = middle; else low = middle;
        }
        return 2 + Math.Exp(high);
    }

    /// <summary>The likeliest d, to the step of the scan (4 %): what to expect of new lots. Infinite where the groups scatter no more than chance gives.</summary>
    public static double PriorMostLikely(IReadOnlyList<ScatterGroup> groups, GammaVarianceLaw law)
    {
        (_, double from, double width, double[] values) = Scan(groups, law);
        int top = Array.IndexOf(values, values.Max());
        return top == Steps ? double.PositiveInfinity : 2 + Math.Exp(from + top * width);
    }

    /// <summary>q: what may be lent, given d and the degrees of freedom of the law.</summary>
    public static double Lent(double priorDf, int lawDf) => 1 / (1 / priorDf + 1.0 / lawDf);

    private static (Func<double, double> At, double From, double Width, double[] Values) Scan(IReadOnlyList<ScatterGroup> groups, GammaVarianceLaw law)
    {
        double[] ratio = [.. groups.Select(g => g.DegreesOfFreedom * g.Variance / law.VarianceAt(g.Mean))];
        (int Nu, int Count)[] counts = [.. groups.CountBy(g => g.DegreesOfFreedom).Select(c => (c.Key, c.Value))];
        double At(double logExcess) => LogLikelihood(Math.Exp(logExcess), groups, ratio, counts);
        double from = Math.Log(Lowest), width = (Math.Log(Highest) - from) / Steps;
        double[] values = new double[Steps + 1];
        for (int i = 0; i <= Steps; i++) values[i] = At(from + i * width);
        return (At, from, width, values);
    }

    private static double LogLikelihood(double excess, IReadOnlyList<ScatterGroup> groups, double[] ratio, (int Nu, int Count)[] counts)
    {
        double d = excess + 2, sum = 0, gammaHalf = SpecialFunctions.GammaLn(d / 2), logExcess = Math.Log(excess);
        foreach ((int nu, int count) in counts) sum += count * (SpecialFunctions.GammaLn((nu + d) / 2) - gammaHalf - nu / 2.0 * logExcess);
        for (int i = 0; i < ratio.Length; i++) sum -= (groups[i].DegreesOfFreedom + d) / 2 * Math.Log(1 + ratio[i] / excess);
        return sum;
    }

    /// <summary>Golden section for the height of a single peak between two points.</summary>
    private static double Peak(Func<double, double> f, double low, double high)
    {
        double golden = (Math.Sqrt(5) - 1) / 2, best = double.NegativeInfinity;
        while (high - low > 1e-8)
        {
            double a = high - golden * (high - low), b = low + golden * (high - low), atA = f(a), atB = f(b);
            best = Math.Max(best, Math.Max(atA, atB));
            if (atA > atB) high = b; else low = a;
        }
        return best;
    }
}
