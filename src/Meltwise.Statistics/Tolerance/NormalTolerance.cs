using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Tolerance;

/// <summary>Exact factors k for normal tolerance limits mean ± k·s: limits that hold a share of all future coupons with a stated confidence.</summary>
/// <remarks>
/// <para><b>Formula.</b> One-sided: k = t'(confidence; n - 1, z_p√n)/√n by the noncentral t. Two-sided: k solves
/// √(n/2π) ∫ exp(-nx²/2) P(χ²_{n-1} &gt; (n - 1) r(x)²/k²) dx = confidence, with r(x) from Φ(x + r) - Φ(x - r) = p.</para>
/// <para><b>Computation.</b> The integral by the trapezoidal rule, exponentially accurate here.</para>
/// <para><b>Limits.</b> Normal readings (use logarithms for impact energy), n ≥ 2. No approximation of Howe or Natrella.</para>
/// <para><b>Source.</b> [OdehOwen1980]; [ISO16269-6]; [HahnMeeker1991].</para>
/// </remarks>
public static class NormalTolerance
{
    /// <summary>k of a one-sided limit.</summary>
    /// <param name="n">Number of coupons.</param>
    /// <param name="coverage">Share p of the population to hold, such as 0.95.</param>
    /// <param name="confidence">Confidence, such as 0.95.</param>
    public static double OneSided(int n, double coverage, double confidence)
    {
        Require(n);
        double root = Math.Sqrt(n);
        return NoncentralT.Quantile(confidence, n - 1, Normal.Quantile(coverage) * root) / root;
    }

    /// <summary>k of two-sided limits about the mean.</summary>
    public static double TwoSided(int n, double coverage, double confidence)
    {
        Require(n);
        double sd = 1 / Math.Sqrt(n), h = 0.1 * sd;
        const int Half = 90;
        double[] squares = new double[Half + 1], weights = new double[Half + 1];
        for (int i = 0; i <= Half; i++)
        {
            double x = i * h, r = HalfWidth(x, coverage);
            squares[i] = r * r * (n - 1);
            weights[i] = (i == 0 ? 1 : 2) * Normal.Density(x / sd) * h / sd;
        }
        double Upper(double k)
        {
            double missing = 0;
            for (int i = 0; i <= Half; i++) missing += weights[i] * ChiSquared.Cdf(squares[i] / (k * k), n - 1);
            return missing;
        }
        return TailInversion.OnPositive(confidence, k =>
        {
            double upper = Upper(k);
            return (1 - upper, upper);
        }, Normal.Quantile(0.5 + coverage / 2) * 1.5);
    }

    /// <summary>r with Φ(x + r) - Φ(x - r) = coverage, by Newton from below the turning point.</summary>
    private static double HalfWidth(double x, double coverage)
    {
        double r = x + Normal.Quantile(coverage);
        for (int i = 0; i < 100; i++)
        {
            double missing = Normal.UpperTail(x + r) + Normal.Cdf(x - r);
            double step = (missing - (1 - coverage)) / (Normal.Density(x + r) + Normal.Density(x - r));
            r += step;
            if (Math.Abs(step) < 1e-15 * r) break;
        }
        return r;
    }

    private static void Require(int n)
    {
        if (n < 2) throw new InsufficientDataException($"A tolerance limit needs at least 2 coupons; got {n}.");
    }
}
