using MathNet.Numerics;

namespace Meltwise.Statistics.Distributions;

/// <summary>Poisson and binomial probabilities of real-valued counts without cancellation: the prefactors of the incomplete gamma and beta functions.</summary>
/// <remarks>
/// <para><b>Computation.</b> ln x! is written as Stirling's formula plus a small error term, and the remaining logarithms
/// are collected into a deviance x ln(x/m) + m - x that is summed as a series near x = m. Nothing large is subtracted,
/// so the relative error stays near 1e-15 also where ln Γ is of size 1e6.</para>
/// <para><b>Source.</b> [Loader2000].</para>
/// </remarks>
internal static class SaddlePointTerms
{
    /// <summary>e^-m m^x / Γ(x+1), for real x &gt; 0 and m &gt; 0.</summary>
    public static double Poisson(double x, double m) =>
        Math.Exp(-StirlingError(x) - Deviance(x, m)) / Math.Sqrt(Constants.Pi2 * x);

    /// <summary>Γ(n+1)/(Γ(x+1)Γ(n-x+1)) p^x q^(n-x), for real 0 &lt; x &lt; n; q = 1 - p is given apart so that neither loses digits.</summary>
    public static double Binomial(double x, double n, double p, double q)
    {
        double y = n - x;
        double log = StirlingError(n) - StirlingError(x) - StirlingError(y) - Deviance(x, n * p) - Deviance(y, n * q);
        return Math.Exp(log) * Math.Sqrt(n / (Constants.Pi2 * x * y));
    }

    /// <summary>ln Γ(n+1) less Stirling's approximation of it.</summary>
    public static double StirlingError(double n)
    {
        if (n <= 15)
            return SpecialFunctions.GammaLn(n + 1) - (n + 0.5) * Math.Log(n) + n - Constants.LogSqrt2Pi;
        double r = 1 / (n * n);
        return (1 / 12.0 - r * (1 / 360.0 - r * (1 / 1260.0 - r * (1 / 1680.0 - r * (1 / 1188.0 - r * (691 / 360360.0)))))) / n;
    }

    /// <summary>x ln(x/m) + m - x, by its series where x is near m.</summary>
    private static double Deviance(double x, double m)
    {
        if (Math.Abs(x - m) >= 0.1 * (x + m))
            return x * Math.Log(x / m) + m - x;

        double v = (x - m) / (x + m);
        double sum = (x - m) * v;
        double term = 2 * x * v;
        for (int j = 1; ; j++)
        {
            term *= v * v;
            double next = sum + term / (2 * j + 1);
            if (next.Equals(sum)) return sum;
            sum = next;
        }
    }
}
