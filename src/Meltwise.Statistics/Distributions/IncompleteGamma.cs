namespace Meltwise.Statistics.Distributions;

/// <summary>The regularized incomplete gamma function, both tails to full relative precision.</summary>
/// <remarks>
/// <para><b>Computation.</b> P(a, x) by its power series for x &lt; a + 1, Q(a, x) by Legendre's continued fraction
/// elsewhere; the smaller tail is never formed as 1 minus the larger. Terms needed grow as √a.</para>
/// <para><b>Source.</b> [DLMF], 8.11.4 and 8.9.2; prefactor by [Loader2000].</para>
/// </remarks>
internal static class IncompleteGamma
{
    private const double Tiny = 1e-300;

    /// <summary>P(a, x) and Q(a, x) = 1 - P(a, x), for a &gt; 0 and x ≥ 0.</summary>
    public static (double Lower, double Upper) Tails(double a, double x)
    {
        if (x <= 0) return (0, 1);
        if (double.IsPositiveInfinity(x)) return (1, 0);

        double front = SaddlePointTerms.Poisson(a, x);
        if (x < a + 1)
        {
            double lower = front * Series(a, x);
            return (lower, 1 - lower);
        }
        double upper = front * a * Fraction(a, x);
        return (1 - upper, upper);
    }

    private static double Series(double a, double x)
    {
        double term = 1, sum = 1;
        for (double n = a + 1; term > sum * 1e-17; n++)
        {
            term *= x / n;
            sum += term;
        }
        return sum;
    }

    private static double Fraction(double a, double x)
    {
        double b = x + 1 - a, c = 1 / Tiny, d = 1 / b, h = d;
        for (int i = 1; i < 100_000; i++)
        {
            double an = -i * (i - a);
            b += 2;
            d = NotZero(an * d + b);
            c = NotZero(b + an / c);
            d = 1 / d;
            double step = d * c;
            h *= step;
            if (Math.Abs(step - 1) < 1e-16) break;
        }
        return h;
    }

    private static double NotZero(double v) => Math.Abs(v) < Tiny ? Tiny : v;
}
