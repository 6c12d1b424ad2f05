using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Outliers;

/// <summary>Up to r readings too far out for a normal sample, without one masking another.</summary>
/// <remarks>
/// <para><b>Formula.</b> R_i = max|z − z̄|/s after i − 1 removals; λ_i = t·(n − i)/√((n − i − 1 + t²)(n − i + 1)), t = t(1 − α/(2(n − i + 1)); n − i − 1). The outliers are the first i readings removed, for the largest i with R_i &gt; λ_i.</para>
/// <para><b>Limits.</b> Normal readings; the approximation is good from about 15 readings. A flag, never a reason to drop a reading.</para>
/// <para><b>Source.</b> [Rosner1983].</para>
/// </remarks>
public static class GeneralizedEsd
{
    /// <summary>All r steps, in the order of removal.</summary>
    /// <param name="readings">At least <paramref name="most"/> + 2 readings.</param>
    /// <param name="most">Largest number of outliers looked for.</param>
    /// <param name="alpha">Level.</param>
    public static IReadOnlyList<OutlierFinding> Steps(ReadOnlySpan<double> readings, int most, double alpha = 0.05)
    {
        int n = readings.Length;
        List<double> left = [.. readings];
        List<int> places = [.. Enumerable.Range(0, n)];
        List<OutlierFinding> steps = [];
        for (int i = 1; i <= most; i++)
        {
            (int index, double statistic) = Grubbs.Farthest(System.Runtime.InteropServices.CollectionsMarshal.AsSpan(left));
            if (!double.IsFinite(statistic)) break;
            double t = -StudentT.Quantile(alpha / (2.0 * (n - i + 1)), n - i - 1);
            steps.Add(new(places[index], statistic, t * (n - i) / Math.Sqrt((n - i - 1 + t * t) * (n - i + 1))));
            left.RemoveAt(index);
            places.RemoveAt(index);
        }
        return steps;
    }

    /// <summary>The outliers found.</summary>
    public static IReadOnlyList<OutlierFinding> Outliers(ReadOnlySpan<double> readings, int most, double alpha = 0.05)
    {
        IReadOnlyList<OutlierFinding> steps = Steps(readings, most, alpha);
        int found = 0;
        for (int i = 0; i < steps.Count; i++) if (steps[i].IsOutlier) found = i + 1;
        return [.. steps.Take(found)];
    }
}
