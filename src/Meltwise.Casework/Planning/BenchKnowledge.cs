using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Statistics.ScatterLaw;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Planning;

/// <summary>What the bench's history knows before a coupon is broken: scatter within a heat and its law, scatter from heat to heat, the trend with hardness, old heats of the sources.</summary>
public sealed record BenchKnowledge
{
    private const double LowestReliability = 0.5;
    private const int GroupsToLend = 10, DegreesToLend = 30;

    /// <summary>The kind of coupon it is about.</summary>
    public required PlannedKind Kind { get; init; }

    /// <summary>Standard deviation of a coupon within its heat on the analysis scale, at the mean of the kind; null without repeats.</summary>
    public double? WithinHeatSd { get; init; }

    /// <summary>Its degrees of freedom.</summary>
    public double? WithinHeatSdDf { get; init; }

    /// <summary>How the scatter grows with the mean and may be lent; null where the history gives no law or the scale is linear.</summary>
    public PlannedLaw? Law { get; init; }

    /// <summary>Groups of repeats behind the scatter.</summary>
    public int ScatterGroups { get; init; }

    /// <summary>Standard deviation from heat to heat as tested; null below 3 heats of one source.</summary>
    public double? HeatSd { get; init; }

    /// <summary>Its degrees of freedom, 2τ⁴/V(τ²), at least 1.</summary>
    public double? HeatSdDf { get; init; }

    /// <summary>Standard deviation from heat to heat about the trend with hardness; null without a trend.</summary>
    public double? HeatSdAtEqualHardness { get; init; }

    /// <summary>The trend with hardness, at a hardness difference of 0: between heats, or of the history's temper ladders where the rule names their slope; null where it cannot be estimated.</summary>
    public PlannedTrend? Trend { get; init; }

    /// <summary>Standard deviation of a coupon's hardness within its heat and treatment, HRC; null when not known.</summary>
    public double? HardnessSd { get; init; }

    /// <summary>Why there is no trend; null when there is one.</summary>
    public string? WhyNoTrend { get; init; }

    /// <summary>Standard deviation of the hardness of heats in one treatment, HRC: the size of difference to expect between two heats is about as large. Null when not known.</summary>
    public double? HeatHardnessSd { get; init; }

    /// <summary>Mean of the property in its stored unit: geometric where it is compared by ratio; null without coupons.</summary>
    public double? Mean { get; init; }

    /// <summary>Old heats that a comparison of the sources would use; null where there are none.</summary>
    public PlannedHistory? History { get; init; }

    /// <summary>Coupons of the kind.</summary>
    public int Coupons { get; init; }

    /// <summary>Heats of the kind.</summary>
    public int Heats { get; init; }

    /// <summary>Reads what a bench knows of the coupons of an enquiry, or of the kind tested most where <paramref name="enquiry"/> is null.</summary>
    public static BenchKnowledge Of(IBench bench, DecisionRule rule, Enquiry? enquiry = null)
    {
        ArgumentNullException.ThrowIfNull(bench);
        CouponTable history = bench.CouponTable(new(Property: rule.Property));
        return Of(history, rule, enquiry is null ? PlannedKind.MostTested(history, rule.Property) : PlannedKind.Of(bench, enquiry with { Rule = rule }, history));
    }

    /// <summary>Reads a history.</summary>
    /// <param name="history">Everything tested before.</param>
    /// <param name="rule">Property and margin of the enquiry.</param>
    /// <param name="kind">The kind of coupon; null takes the whole table as of one kind.</param>
    public static BenchKnowledge Of(CouponTable history, DecisionRule rule, PlannedKind? kind = null)
    {
        ArgumentNullException.ThrowIfNull(history);
        ResolvedRule resolved = ResolvedRule.From(rule, null, 0);
        PlannedKind of = kind ?? new(new(rule.Property));
        HistoryCoupon[] all = [.. history.Rows.Where(r => r.State == CouponState.Valid && !(of.LotHeats?.Contains(r.Heat) ?? false))
            .Select(r => (Row: r, Value: LotReader.ValueOf(r, resolved)))
            .Where(r => r.Value is { Bound: Censoring.None })
            .Select(r => new HistoryCoupon(r.Row, resolved.Analysed(r.Value!.Value.Value), LotReader.HardnessOf(r.Row) ?? double.NaN))];
        HistoryCoupon[] coupons = [.. all.Where(c => of.Choice.Misses(c.Row) is null)];
        if (coupons.Length == 0) return new() { Kind = of, WhyNoTrend = "nothing of this kind was tested before" };

        // Of one treatment, as the comparison of sources takes it: the one planned, or the one tested most.
        string? treatment = of.Treatment ?? coupons.GroupBy(c => c.Row.Treatment).MaxBy(g => g.Count())!.Key;
        HistoryCoupon[] treated = [.. coupons.Where(c => string.Equals(c.Row.Treatment, treatment, StringComparison.OrdinalIgnoreCase))];
        double mean = (treated.Length > 0 ? treated : coupons).Average(c => c.Z);
        BenchKnowledge known = new()
        {
            Kind = of,
            Coupons = coupons.Length,
            Heats = coupons.Select(c => c.Row.Heat).Distinct(StringComparer.OrdinalIgnoreCase).Count(),
            Mean = resolved.IsLog ? Math.Exp(mean) : mean,
        };
        known = WithScatter(known, [.. all.Where(c => SameForm(of, c.Row))], coupons, mean, resolved.IsLog);
        return WithTrend(WithHeats(known, treated), coupons, treated, rule.LadderSlope);
    }

    /// <summary>The request with what the bench knows filled in; what it does not know stays as it was.</summary>
    /// <param name="request">The request.</param>
    /// <param name="hardnessDifference">Expected difference of hardness, HRC; null plans as tested.</param>
    public PlanRequest Into(PlanRequest request, double? hardnessDifference = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        PlannedTrend? trend = hardnessDifference is { } h && Trend is { } t ? t with { HardnessDifference = h } : request.Trend;
        double? heatSd = trend is null ? HeatSd : HeatSdAtEqualHardness ?? HeatSd;
        return request with
        {
            WithinHeatSd = WithinHeatSd ?? request.WithinHeatSd,
            WithinHeatSdDf = WithinHeatSd is null ? request.WithinHeatSdDf : WithinHeatSdDf,
            Law = Law ?? request.Law,
            ReferenceMean = request.ReferenceMean ?? Mean,
            HeatSd = heatSd ?? request.HeatSd,
            HeatSdDf = heatSd is null ? request.HeatSdDf : HeatSdDf,
            Trend = trend,
            History = History ?? request.History,
        };
    }

    private static bool SameForm(PlannedKind kind, CouponRow row) => (kind.Choice with { Grade = null, Route = null, TemperFamily = null }).Misses(row) is null;

    private static BenchKnowledge WithScatter(BenchKnowledge known, HistoryCoupon[] form, HistoryCoupon[] coupons, double mean, bool log)
    {
        List<ScatterGroup> groups = Groups(form), own = Groups(coupons);
        if (log && GammaVarianceLaw.Fit(groups) is { } law)
        {
            double lent = LentDegreesOfFreedom.Lent(LentDegreesOfFreedom.PriorLowerLimit(groups, law), law.DegreesOfFreedom);
            return known with
            {
                WithinHeatSd = Math.Sqrt(law.VarianceAt(mean)),
                WithinHeatSdDf = law.DegreesOfFreedom,
                ScatterGroups = law.Groups,
                Law = new(law.Exponent, law.StandardError ?? 0, Math.Max(1, law.Groups - 2), LentDegreesOfFreedom.PriorMostLikely(groups, law), lent, law.Groups >= GroupsToLend && law.DegreesOfFreedom >= DegreesToLend),
            };
        }
        int df = own.Sum(g => g.DegreesOfFreedom);
        double variance = df == 0 ? 0 : own.Sum(g => g.DegreesOfFreedom * g.Variance) / df;
        return variance > 0 ? known with { WithinHeatSd = Math.Sqrt(variance), WithinHeatSdDf = df, ScatterGroups = own.Count } : known;
    }

    private static List<ScatterGroup> Groups(IEnumerable<HistoryCoupon> coupons)
    {
        List<ScatterGroup> groups = [];
        foreach (IGrouping<(string, string?, double?), HistoryCoupon> g in coupons.GroupBy(c => (c.Row.Heat, c.Row.Treatment, c.Row.TestTemperatureK)))
        {
            int n = g.Count();
            if (n < 2) continue;
            double mean = g.Average(c => c.Z);
            groups.Add(new(mean, g.Sum(c => (c.Z - mean) * (c.Z - mean)) / (n - 1), n - 1));
        }
        return groups;
    }

    private static BenchKnowledge WithHeats(BenchKnowledge known, HistoryCoupon[] treated)
    {
        if (treated.Length == 0) return known;
        HeatSet heats = HeatSet.From(treated);
        RandomHeatModel? model = heats.Heats.Count > heats.Sources + 1 ? RandomHeatModel.Fit([.. heats.Heats.SelectMany((h, i) => h.Groups.Select(g =>
            new HeatGroup(i, g.Count, g.Mean, g.SquaresWithin, [.. Enumerable.Range(0, heats.Sources).Select(s => s == h.Source ? 1.0 : 0.0)])))], heats.Heats.Count) : null;
        double? df = model is { HeatVariance: > 0 } m ? Math.Max(1, 2 * m.HeatVariance * m.HeatVariance / m.VarianceOfHeatVariance) : null;
        var bySource = treated.GroupBy(c => c.Row.Source ?? "", StringComparer.OrdinalIgnoreCase)
            .Select(g => (Source: g.Key, Heats: g.Select(c => c.Row.Heat).Distinct(StringComparer.OrdinalIgnoreCase).Count())).ToArray();
        int OfSource(string? name) => name is null ? 0 : bySource.Where(s => string.Equals(s.Source, name, StringComparison.OrdinalIgnoreCase)).Sum(s => s.Heats);
        (string? c, string? r) = (known.Kind.CandidateSource, known.Kind.ReferenceSource);
        int[] others = [.. bySource.Where(s => !string.Equals(s.Source, c, StringComparison.OrdinalIgnoreCase) && !string.Equals(s.Source, r, StringComparison.OrdinalIgnoreCase)).Select(s => s.Heats)];
        return known with
        {
            HeatSd = model is null ? null : Math.Sqrt(model.HeatVariance),
            HeatSdDf = df,
            History = new(OfSource(r), OfSource(c), others, Math.Max(2, (int)Math.Round((double)treated.Length / heats.Heats.Count))),
        };
    }

    private static BenchKnowledge WithTrend(BenchKnowledge known, HistoryCoupon[] coupons, HistoryCoupon[] treated, bool ofLadders)
    {
        double[] hardness = [.. treated.Where(c => !double.IsNaN(c.Hardness)).GroupBy(c => c.Row.Heat, StringComparer.OrdinalIgnoreCase).Select(g => g.Average(c => c.Hardness))];
        if (hardness.Length > 2)
        {
            double mean = hardness.Average();
            known = known with { HeatHardnessSd = Math.Sqrt(hardness.Sum(h => (h - mean) * (h - mean)) / (hardness.Length - 1)) };
        }
        HeatSet set = HeatSet.From(coupons.Where(c => !double.IsNaN(c.Hardness)));
        double variance = set.HardnessDf < 1 ? 0 : set.HardnessSquares / set.HardnessDf;
        if (variance > 0) known = known with { HardnessSd = Math.Sqrt(variance) };
        HeatTrend? between = set.HardnessDf < 1 || set.Heats.Count < HeatTrend.FewestDf + 2 ? null
            : TrendModel.Fit(set.Heats, set.Heats.Count - set.Sources - 1 < HeatTrend.FewestDf ? 1 : set.Sources)?.Corrected(new(variance, set.HardnessDf, 0));
        if (between is { Attenuation: >= LowestReliability }) known = known with { HeatSdAtEqualHardness = Math.Sqrt(between.HeatVariance) };
        return ofLadders ? WithLadders(known, set, variance) : between is null
            ? known with { WhyNoTrend = set.Heats.Count < HeatTrend.FewestDf + 2 || set.HardnessDf < 1 ? $"the trend needs {HeatTrend.FewestDf + 2} heats of this kind with hardness; the history has {set.Heats.Count}" : "the heats of the history all have one hardness" }
            : between.Attenuation < LowestReliability ? known with { WhyNoTrend = "the heats of the history differ in hardness hardly more than its error" }
            : known with { Trend = new(between.Slope, between.SlopeSe, between.DegreesOfFreedom, 0, Math.Sqrt(variance), set.HardnessDf) };
    }

    /// <summary>The slope of the history's temper ladders, as the verdict takes it where the rule names it: not corrected for error in hardness.</summary>
    private static BenchKnowledge WithLadders(BenchKnowledge known, HeatSet set, double variance)
    {
        if (TreatmentLadder.Fit(set.Heats) is not { IsLadder: true } ladder || set.HardnessDf < 1)
            return known with { WhyNoTrend = $"the rule names the slope of temper ladders, and the history has no {TreatmentLadder.FewestHeats} heats with 3 levels over 2 HRC" };
        return ladder.Reliability(variance) < LowestReliability
            ? known with { WhyNoTrend = "the levels of the history's ladders differ in hardness hardly more than its error" }
            : known with { Trend = new(ladder.Slope, ladder.StandardError, ladder.DegreesOfFreedom, 0, Math.Sqrt(variance), set.HardnessDf) { OfLadders = true } };
    }
}
