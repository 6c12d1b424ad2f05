namespace Meltwise.Statistics.Robust;

/// <summary>Location and scale that a few wild readings cannot move.</summary>
/// <remarks><b>Formula.</b> Median; MAD times 1.4826; Huber's proposal 2 with k = 1.5 (means of readings pulled in to μ ± ks, s scaled to the normal);
/// algorithm A of interlaboratory practice, the same idea with the constants 1.483 and 1.134. <b>Limits.</b> Up to half the readings wild for median and MAD, fewer for the others; shown beside a verdict,
/// never in place of it. <b>Source.</b> [Huber1964]; [ISO13528].</remarks>
public static class RobustLocation
{
    /// <summary>Median.</summary>
    public static double Median(IReadOnlyList<double> x)
    {
        ArgumentNullException.ThrowIfNull(x);
        if (x.Count == 0) throw new InsufficientDataException("A median needs at least 1 reading; got none.");
        double[] sorted = [.. x.Order()];
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : 0.5 * (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]);
    }

    /// <summary>Median of absolute deviations from the median, times a factor (1.4826 for the normal).</summary>
    public static double Mad(IReadOnlyList<double> x, double factor = 1.4826)
    {
        double median = Median(x);
        return factor * Median([.. x.Select(v => Math.Abs(v - median))]);
    }

    /// <summary>Huber's proposal 2.</summary>
    public static (double Location, double Scale) HuberProposal2(IReadOnlyList<double> x, double k = 1.5)
    {
        double inside = Distributions.Normal.Cdf(k) - Distributions.Normal.Cdf(-k);
        double beta = inside + k * k * (1 - inside) - 2 * k * Distributions.Normal.Density(k);
        return Iterate(x, Median(x), Mad(x), k, s => s / beta);
    }

    /// <summary>Algorithm A.</summary>
    public static (double Location, double Scale) AlgorithmA(IReadOnlyList<double> x) => Iterate(x, Median(x), Mad(x, 1.483), 1.5, s => s * 1.134 * 1.134);

    private static (double, double) Iterate(IReadOnlyList<double> x, double location, double scale, double k, Func<double, double> correct)
    {
        for (int i = 0; i < 10_000; i++)
        {
            double low = location - k * scale, high = location + k * scale;
            double[] pulled = [.. x.Select(v => Math.Clamp(v, low, high))];
            double mean = pulled.Average();
            double next = Math.Sqrt(correct(pulled.Sum(v => (v - mean) * (v - mean)) / (x.Count - 1)));
            bool still = Math.Abs(mean - location) < 1e-13 * next && Math.Abs(next - scale) < 1e-13 * next;
            (location, scale) = (mean, next);
            if (still) break;
        }
        return (location, scale);
    }
}
