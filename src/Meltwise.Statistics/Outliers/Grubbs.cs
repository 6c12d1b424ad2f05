using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Outliers;

/// <summary>Is the reading farthest from the mean too far for a normal sample of this size?</summary>
/// <remarks>
/// <para><b>Formula.</b> G = max|z − z̄|/s against (n − 1)/√n·√(t²/(n − 2 + t²)), t = t(1 − α/2n; n − 2).</para>
/// <para><b>Limits.</b> Normal readings; one outlier, two of them mask each other. At n = 3 the statistic cannot exceed 1.155, so the test needs 4 or more. A flag, never a reason to drop a reading.</para>
/// <para><b>Source.</b> [Grubbs1969]; the two-sided form of ASTM E178.</para>
/// </remarks>
public static class Grubbs
{
    /// <summary>Tests the reading farthest from the mean.</summary>
    /// <returns>The flag with its index, or null when there are fewer than 4 readings or no scatter.</returns>
    public static OutlierFinding? Test(ReadOnlySpan<double> readings, double alpha = 0.05)
    {
        if (readings.Length < 4) return null;
        (int index, double statistic) = Farthest(readings);
        return double.IsFinite(statistic) ? new(index, statistic, CriticalValue(readings.Length, alpha)) : null;
    }

    /// <summary>Two-sided critical value for n readings.</summary>
    public static double CriticalValue(int n, double alpha) => OneSidedCriticalValue(n, alpha / 2);

    /// <summary>One-sided critical value for n readings.</summary>
    public static double OneSidedCriticalValue(int n, double alpha)
    {
        double t = -StudentT.Quantile(alpha / n, n - 2);
        return (n - 1) / Math.Sqrt(n) * Math.Sqrt(t * t / (n - 2 + t * t));
    }

    /// <summary>The reading farthest from the mean, in standard deviations.</summary>
    internal static (int Index, double Statistic) Farthest(ReadOnlySpan<double> readings)
    {
        double mean = 0, squares = 0;
        foreach (double x in readings) mean += x;
        mean /= readings.Length;
        int index = 0;
        for (int i = 0; i < readings.Length; i++)
        {
            double d = readings[i] - mean;
            squares += d * d;
            if (Math.Abs(d) > Math.Abs(readings[index] - mean)) index = i;
        }
        return (index, Math.Abs(readings[index] - mean) / Math.Sqrt(squares / (readings.Length - 1)));
    }
}

/// <summary>A reading held against a critical value.</summary>
/// <param name="Index">Its place in the list given.</param>
/// <param name="Statistic">Its statistic.</param>
/// <param name="CriticalValue">The value it was held against.</param>
public readonly record struct OutlierFinding(int Index, double Statistic, double CriticalValue)
{
    /// <summary>Whether it stands apart.</summary>
    public bool IsOutlier => Statistic > CriticalValue;
}
