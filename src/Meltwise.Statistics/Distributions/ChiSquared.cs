namespace Meltwise.Statistics.Distributions;

/// <summary>The chi-squared distribution with any positive degrees of freedom. Source: [DLMF], 8.2, by the incomplete gamma function.</summary>
public static class ChiSquared
{
    /// <summary>P(X ≤ x).</summary>
    public static double Cdf(double x, double degreesOfFreedom) => Tails(x, degreesOfFreedom).Lower;

    /// <summary>P(X &gt; x).</summary>
    public static double UpperTail(double x, double degreesOfFreedom) => Tails(x, degreesOfFreedom).Upper;

    /// <summary>The x with P(X ≤ x) = p, for 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double degreesOfFreedom) =>
        TailInversion.OnPositive(p, x => Tails(x, degreesOfFreedom), Start(p, degreesOfFreedom));

    private static (double Lower, double Upper) Tails(double x, double degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        return IncompleteGamma.Tails(degreesOfFreedom / 2, x / 2);
    }

    /// <summary>Wilson and Hilferty's cube, floored: only a place to begin.</summary>
    private static double Start(double p, double nu)
    {
        if (p is <= 0 or >= 1) return nu;
        double c = 2 / (9 * nu), root = 1 - c + Normal.Quantile(p) * Math.Sqrt(c);
        return root > 0.1 ? nu * root * root * root : nu * 1e-3;
    }
}
