namespace Meltwise.Imaging.Stereology;

/// <summary>Sizes of the particles that are not cut by the frame.</summary>
/// <param name="Mean">Mean by number.</param>
/// <param name="Median">Median by number.</param>
/// <param name="P95">95th percentile by number.</param>
/// <param name="Largest">The largest; means little without the inspected area.</param>
/// <param name="AreaWeightedMedian">Size below which half of the particle area lies.</param>
/// <param name="AreaWeightedP95">Size below which 95 % of the particle area lies.</param>
public sealed record SizeSummary(double Mean, double Median, double P95, double Largest, double AreaWeightedMedian, double AreaWeightedP95)
{
    /// <summary>Summary of diameters, or null when there are none.</summary>
    /// <param name="diameters">Equivalent diameters, in any unit of length.</param>
    public static SizeSummary? Of(IEnumerable<double> diameters)
    {
        double[] sorted = [.. diameters.Order()];
        if (sorted.Length == 0) return null;
        return new(sorted.Average(), Quantile(sorted, 0.5), Quantile(sorted, 0.95), sorted[^1], AreaWeighted(sorted, 0.5), AreaWeighted(sorted, 0.95));
    }

    /// <summary>The summary in another unit.</summary>
    /// <param name="factor">New units per old unit.</param>
    public SizeSummary Times(double factor) =>
        new(Mean * factor, Median * factor, P95 * factor, Largest * factor, AreaWeightedMedian * factor, AreaWeightedP95 * factor);

    /// <summary>Quantile with linear interpolation between order statistics: definition 7 of R. J. Hyndman, Y. Fan, The American Statistician 50 (1996) 361-365.</summary>
    private static double Quantile(double[] sorted, double share)
    {
        double at = share * (sorted.Length - 1);
        int below = (int)at;
        return below + 1 < sorted.Length ? sorted[below] + (at - below) * (sorted[below + 1] - sorted[below]) : sorted[^1];
    }

    private static double AreaWeighted(double[] sorted, double share)
    {
        double total = sorted.Sum(d => d * d), sum = 0;
        foreach (double d in sorted)
        {
            sum += d * d;
            if (sum >= share * total) return d;
        }
        return sorted[^1];
    }
}
