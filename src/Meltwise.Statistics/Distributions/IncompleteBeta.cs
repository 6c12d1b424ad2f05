namespace Meltwise.Statistics.Distributions;

/// <summary>The regularized incomplete beta function, both tails to full relative precision.</summary>
/// <remarks>
/// <para><b>Computation.</b> Continued fraction on the side of the mean where it converges fast; the other tail is the
/// complement, which is then not small. The complement y = 1 - x is an argument of its own, so that a tail at x near 1
/// keeps its digits. Terms needed grow as √max(a, b).</para>
/// <para><b>Source.</b> [DLMF], 8.17.22; prefactor by [Loader2000].</para>
/// </remarks>
internal static class IncompleteBeta
{
    private const double Tiny = 1e-300;

    /// <summary>I_x(a, b) and its complement, for a, b &gt; 0, x + y = 1.</summary>
    public static (double Lower, double Upper) Tails(double a, double b, double x, double y)
    {
        if (x <= 0) return (0, 1);
        if (y <= 0) return (1, 0);

        double front = SaddlePointTerms.Binomial(a, a + b, x, y) * (a / (a + b)) * b;
        if (x < (a + 1) / (a + b + 2))
        {
            double lower = front * Fraction(a, b, x) / a;
            return (lower, 1 - lower);
        }
        double upper = front * Fraction(b, a, y) / b;
        return (1 - upper, upper);
    }

    private static double Fraction(double a, double b, double x)
    {
        double sum = a + b;
        double c = 1, d = 1 / NotZero(1 - sum * x / (a + 1)), h = d;
        for (int m = 1; m < 100_000; m++)
        {
            double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
            d = 1 / NotZero(1 + even * d);
            c = NotZero(1 + even / c);
            h *= d * c;

            double odd = -(a + m) * (sum + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
            d = 1 / NotZero(1 + odd * d);
            c = NotZero(1 + odd / c);
            double step = d * c;
            h *= step;
            if (Math.Abs(step - 1) < 1e-16) break;
        }
        return h;
    }

    private static double NotZero(double v) => Math.Abs(v) < Tiny ? Tiny : v;
}
