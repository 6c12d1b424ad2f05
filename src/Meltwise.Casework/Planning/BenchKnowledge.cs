using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.ScatterLaw;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Planning;

/// <summary>What the bench's history knows before a coupon is broken: scatter within a heat, heat to heat, and the trend with hardness.</summary>
/// <param name="WithinHeatSd">Standard deviation of a coupon within its heat on the analysis scale; null without repeats.</param>
/// <param name="WithinHeatSdDf">Its degrees of freedom.</param>
/// <param name="HeatSd">Standard deviation from heat to heat; null below 3 heats of one source.</param>
/// <param name="HeatSdDf">Its degrees of freedom, 2τ⁴/V(τ²), at least 1.</param>
/// <param name="Trend">The trend with hardness, at a hardness difference of 0; null where it cannot be estimated.</param>
/// <param name="Coupons">Coupons used.</param>
/// <param name="Heats">Heats used.</param>
public sealed record BenchKnowledge(double? WithinHeatSd, double? WithinHeatSdDf, double? HeatSd, double? HeatSdDf, PlannedTrend? Trend, int Coupons, int Heats)
{
    /// <summary>Reads the history.</summary>
    /// <param name="history">Coupons of one kind: same geometry, orientation and, for the trend, grade and treatment.</param>
    /// <param name="rule">Property and margin of the enquiry.</param>
    public static BenchKnowledge Of(CouponTable history, DecisionRule rule)
    {
        ArgumentNullException.ThrowIfNull(history);
        ResolvedRule resolved = ResolvedRule.From(rule, null, 0);
        HistoryCoupon[] coupons = [.. history.Rows.Where(r => r.State == CouponState.Valid)
            .Select(r => (Row: r, Value: LotReader.ValueOf(r, resolved)))
            .Where(r => r.Value is { Bound: Censoring.None })
            .Select(r => new HistoryCoupon(r.Row, resolved.Analysed(r.Value!.Value.Value), LotReader.HardnessOf(r.Row) ?? double.NaN))];
        (double? within, double? withinDf) = Within(coupons, resolved.IsLog);
        HeatSet heats = HeatSet.From(coupons);
        RandomHeatModel? model = heats.Heats.Count > heats.Sources + 1 ? RandomHeatModel.Fit([.. heats.Heats.SelectMany((h, i) => h.Groups.Select(g =>
            new HeatGroup(i, g.Count, g.Mean, g.SquaresWithin, [.. Enumerable.Range(0, heats.Sources).Select(s => s == h.Source ? 1.0 : 0.0)])))], heats.Heats.Count) : null;
        double? heatDf = model is { HeatVariance: > 0 } m ? Math.Max(1, 2 * m.HeatVariance * m.HeatVariance / m.VarianceOfHeatVariance) : null;
        return new(within, withinDf, model is null ? null : Math.Sqrt(model.HeatVariance), heatDf, TrendOf(coupons), coupons.Length, heats.Heats.Count);
    }

    /// <summary>The request with what the bench knows filled in; what it does not know stays as it was.</summary>
    public PlanRequest Into(PlanRequest request, double? hardnessDifference = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        return request with
        {
            WithinHeatSd = WithinHeatSd ?? request.WithinHeatSd,
            WithinHeatSdDf = WithinHeatSd is null ? request.WithinHeatSdDf : WithinHeatSdDf,
            HeatSd = HeatSd ?? request.HeatSd,
            HeatSdDf = HeatSd is null ? request.HeatSdDf : HeatSdDf,
            Trend = hardnessDifference is { } h && Trend is { } t ? t with { HardnessDifference = h } : request.Trend,
        };
    }

    private static (double? Sd, double? Df) Within(HistoryCoupon[] coupons, bool log)
    {
        List<ScatterGroup> groups = [];
        foreach (IGrouping<(string, string?, double?), HistoryCoupon> g in coupons.GroupBy(c => (c.Row.Heat, c.Row.Treatment, c.Row.TestTemperatureK)))
        {
            int n = g.Count();
            if (n < 2) continue;
            double mean = g.Average(c => c.Z);
            groups.Add(new(mean, g.Sum(c => (c.Z - mean) * (c.Z - mean)) / (n - 1), n - 1));
        }
        int df = groups.Sum(g => g.DegreesOfFreedom);
        if (df == 0) return (null, null);

        // On logarithms the law speaks at the coupons' mean; on a linear scale the variances are pooled.
        double variance = log && GammaVarianceLaw.Fit(groups) is { } law ? law.VarianceAt(coupons.Average(c => c.Z)) : groups.Sum(g => g.DegreesOfFreedom * g.Variance) / df;
        return variance > 0 ? (Math.Sqrt(variance), df) : (null, null);
    }

    private static PlannedTrend? TrendOf(HistoryCoupon[] coupons)
    {
        HeatSet set = HeatSet.From(coupons.Where(c => !double.IsNaN(c.Hardness)));
        if (set.HardnessDf < 1 || set.Heats.Count < 4) return null;
        double variance = set.HardnessSquares / set.HardnessDf;
        int sources = set.Heats.Count - set.Sources - 1 < HeatTrend.FewestDf ? 1 : set.Sources;
        IReadOnlyList<TrendHeat> heats = sources == set.Sources ? set.Heats : [.. set.Heats.Select(h => h with { Source = 0 })];
        return HeatTrend.Fit(heats, sources, new(variance, set.HardnessDf, 0)) is { DegreesOfFreedom: >= HeatTrend.FewestDf, Attenuation: >= 0.5 } trend
            ? new(trend.Slope, trend.SlopeSe, trend.DegreesOfFreedom, 0, Math.Sqrt(variance), set.HardnessDf)
            : null;
    }
}
