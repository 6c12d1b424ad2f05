using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>The history by heat, source and treatment, as the trend wants it.</summary>
/// <param name="Heats">Heats by name.</param>
/// <param name="Sources">Number of sources; heats without a named source are one level together.</param>
/// <param name="HardnessSquares">Σ squares of coupon hardness within heat and treatment.</param>
/// <param name="HardnessDf">Their degrees of freedom.</param>
internal sealed record HeatSet(IReadOnlyList<TrendHeat> Heats, int Sources, double HardnessSquares, int HardnessDf)
{
    public static HeatSet From(IEnumerable<HistoryCoupon> coupons)
    {
        Dictionary<string, int> sources = new(StringComparer.OrdinalIgnoreCase);
        List<TrendHeat> heats = [];
        double squares = 0;
        int df = 0;
        foreach (IGrouping<string, HistoryCoupon> heat in coupons.GroupBy(c => c.Row.Heat, StringComparer.OrdinalIgnoreCase))
        {
            List<TrendGroup> groups = [];
            foreach (IGrouping<string?, HistoryCoupon> g in heat.GroupBy(c => c.Row.Treatment, StringComparer.OrdinalIgnoreCase))
            {
                double mean = g.Average(c => c.Z), hardness = g.Average(c => c.Hardness);
                int count = g.Count();
                groups.Add(new(count, mean, g.Sum(c => (c.Z - mean) * (c.Z - mean)), hardness, [.. g.Select(c => c.Z)]));
                squares += g.Sum(c => (c.Hardness - hardness) * (c.Hardness - hardness));
                df += count - 1;
            }
            heats.Add(new(SourceIndex(sources, heat.First().Row.Source), heat.Average(c => c.Hardness), heat.Count(), groups));
        }
        return new(heats, Math.Max(1, sources.Count), squares, df);
    }

    /// <summary>Index of a source by name; unnamed heats share the empty name.</summary>
    public static int SourceIndex(Dictionary<string, int> sources, string? name)
    {
        string key = name ?? "";
        if (!sources.TryGetValue(key, out int index)) sources[key] = index = sources.Count;
        return index;
    }
}
