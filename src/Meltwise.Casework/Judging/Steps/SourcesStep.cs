using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Equivalence;
using Meltwise.Statistics.Sources;

namespace Meltwise.Casework.Judging;

/// <summary>Step 5: the two sources in general, with the heat as the random unit.</summary>
internal static class SourcesStep
{
    private const int MostHeats = 50, FewestHeatDf = 6, FewestHeatDfWithTwoEach = 2;
    private static readonly double[] s_assumedTau = [0.03, 0.06, 0.12];

    public static SourcesInGeneral Judge(LotData lots, EqualHardnessStep equalHardness, HistoryMatch? history, ResolvedRule rule)
    {
        string?[] candidate = SourcesOf(lots, true), reference = SourcesOf(lots, false);
        if (candidate.Contains(null) || reference.Contains(null))
            return new() { Refused = Reason.SourcesNotNamed, Missing = "The sources of the lots are not named. Name the source of every heat." };
        if (candidate.Length > 1 || reference.Length > 1 || string.Equals(candidate[0], reference[0], StringComparison.OrdinalIgnoreCase))
            return new() { Refused = Reason.OneSource, Missing = "Each role must be of one source, and the two sources must differ." };

        bool adjusted = equalHardness.Slope is not null;
        (List<SourceHeat> heats, int sources, int candidateIndex, int referenceIndex) = Heats(lots, history, adjusted, candidate[0]!, reference[0]!);
        int ofCandidate = heats.Count(h => h.Source == candidateIndex), ofReference = heats.Count(h => h.Source == referenceIndex);
        int heatDf = heats.Count - sources - (adjusted ? 1 : 0), needed = Math.Min(ofCandidate, ofReference) >= 2 ? FewestHeatDfWithTwoEach : FewestHeatDf;
        SourcesInGeneral known = new()
        {
            Basis = adjusted ? "equal-hardness" : "as-tested", CandidateSource = candidate[0], ReferenceSource = reference[0],
            HeatsOfCandidateSource = ofCandidate, HeatsOfReferenceSource = ofReference, HeatsInAll = heats.Count,
        };
        if (heatDf < needed || SourceContrast.Fit(heats, sources, candidateIndex, referenceIndex, equalHardness.Slope) is not { } contrast)
            return known with
            {
                Basis = null, Refused = Reason.HeatToHeatScatterUnknown, HeatDf = heatDf, Needed = needed, HeatsToSettleIf = Assumed(lots, rule),
                Missing = $"The scatter from heat to heat is not known: {heats.Count} heats of {sources} sources leave {heatDf} degrees of freedom, {needed} are needed. One heat of a source cannot speak for the source.",
            };
        return Result(lots, rule, known, contrast, heats, equalHardness.Slope);
    }

    private static SourcesInGeneral Result(LotData lots, ResolvedRule rule, SourcesInGeneral known, SourceContrast contrast, List<SourceHeat> heats, SlopeOnHardness? slope)
    {
        List<VariancePart> parts = [new("heats", contrast.VarianceOfContrast, contrast.DegreesOfFreedomOfContrast)];
        if (slope is { } b) parts.Add(new("slope", contrast.VarianceFromSlope, b.DegreesOfFreedom));
        JudgedContrast judged = JudgedContrast.Against(rule.Limits, contrast.Estimate, parts, rule);
        if (rule.Kind == MarginKind.Hardness && slope is { } s)
            judged = judged.AgainstHardness(contrast.Estimate.Estimate + contrast.HardnessDifference * s.Slope, contrast.HardnessDifference, [parts[0]], s);
        double tau = Math.Sqrt(contrast.HeatVariance);
        bool single = Math.Min(known.HeatsOfCandidateSource!.Value, known.HeatsOfReferenceSource!.Value) == 1;
        bool oneEach = known.HeatsOfCandidateSource == 1 && known.HeatsOfReferenceSource == 1;
        double coupons = Math.Round(heats.Where(h => h.IsEnquiry).Average(h => h.Count), MidpointRounding.ToEven);
        return new SourcesInGeneral(judged)
        {
            Basis = known.Basis, CandidateSource = known.CandidateSource, ReferenceSource = known.ReferenceSource, HeatsOfCandidateSource = known.HeatsOfCandidateSource,
            HeatsOfReferenceSource = known.HeatsOfReferenceSource, HeatsInAll = known.HeatsInAll, HeatToHeatSd = tau, ResidualSd = Math.Sqrt(contrast.ResidualVariance),
            VarianceOfHeatVariance = contrast.VarianceOfHeatVariance, VarianceOfContrast = contrast.VarianceOfContrast, VarianceFromSlope = contrast.VarianceFromSlope,
            HeatsToSettle = ToSettle(contrast.HeatVariance, contrast.ResidualVariance, coupons, rule),
            FactorWithOneHeatEach = oneEach && rule.IsLog ? Math.Exp(1.645 * Math.Sqrt(2) * tau) : null,
            Note = single ? "one heat of a source: the interval rests on the heat-to-heat scatter of other heats" : null,
            Notes =
            [
                $"The heat is the random unit: {known.HeatsOfCandidateSource} of {known.CandidateSource}, {known.HeatsOfReferenceSource} of {known.ReferenceSource}, {known.HeatsInAll} in all; {(slope is null ? "as tested" : "at equal hardness")}.",
                "Degrees of freedom count heats, never coupons (Satterthwaite 1946 on the expected information of the variances).",
            ],
        };
    }

    /// <summary>Smallest number of heats a source with a chance of 0.8 to show agreement when the sources do not differ.</summary>
    private static NumberToSettle ToSettle(double heatVariance, double residualVariance, double coupons, ResolvedRule rule)
    {
        (double low, double high) = rule.Limits;
        int? heats = EquivalencePower.SmallestNumber(
            h => EquivalencePower.Of(Math.Sqrt(2 * (heatVariance + residualVariance / coupons) / h), 2 * h - 2, 0, low, high, rule.Alpha), 0.8, MostHeats);
        return heats is { } number ? new(number) : new(MostHeats, true);
    }

    private static List<AssumedHeats>? Assumed(LotData lots, ResolvedRule rule)
    {
        if (!rule.IsLog || lots.Contrast(lots.Z) is not { } contrast || rule.Low <= 0) return null;
        double variance = contrast.Scatter.Average(s => s.Variance), coupons = Math.Round((double)lots.Coupons.Count / lots.Heats.Count, MidpointRounding.ToEven);
        return [.. s_assumedTau.Select(tau => new AssumedHeats(tau, ToSettle(tau * tau, variance, coupons, rule)))];
    }

    private static string?[] SourcesOf(LotData lots, bool candidate) =>
        [.. lots.Coupons.Where(c => c.IsCandidate == candidate).Select(c => c.Row.Source).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <summary>All heats of the stratum: those of the lots, and those of the history with the lots' treatment; with a slope, only heats whose hardness is known.</summary>
    private static (List<SourceHeat> Heats, int Sources, int Candidate, int Reference) Heats(LotData lots, HistoryMatch? history, bool adjusted, string candidate, string reference)
    {
        Dictionary<string, int> sources = new(StringComparer.OrdinalIgnoreCase) { [candidate] = 0, [reference] = 1 };
        List<SourceHeat> heats = [];
        for (int h = 0; h < lots.Heats.Count; h++)
        {
            int[] rows = [.. Enumerable.Range(0, lots.Coupons.Count).Where(i => lots.Heat[i] == h)];
            heats.Add(Heat(HeatSet.SourceIndex(sources, lots.Coupons[rows[0]].Row.Source), true, [.. rows.Select(i => lots.Z[i])], [.. rows.Select(i => lots.Hardness[i])]));
        }
        string? treatment = StratumCheck.Shared(lots.Coupons, r => r.Treatment);
        IEnumerable<HistoryCoupon> stratum = (history?.Coupons ?? []).Where(c => treatment is null || !history!.RecordsTreatment || string.Equals(c.Row.Treatment, treatment, StringComparison.OrdinalIgnoreCase));
        if (adjusted) stratum = stratum.Where(c => !double.IsNaN(c.Hardness));
        foreach (IGrouping<string, HistoryCoupon> heat in stratum.GroupBy(c => c.Row.Heat, StringComparer.OrdinalIgnoreCase))
            heats.Add(Heat(HeatSet.SourceIndex(sources, heat.First().Row.Source), false, [.. heat.Select(c => c.Z)], [.. heat.Select(c => c.Hardness)]));
        return (heats, sources.Count, 0, 1);
    }

    private static SourceHeat Heat(int source, bool enquiry, double[] z, double[] hardness)
    {
        double mean = z.Average();
        double[] read = [.. hardness.Where(h => !double.IsNaN(h))];
        return new(source, enquiry, z.Length, mean, z.Sum(v => (v - mean) * (v - mean)), read.Length > 0 ? read.Average() : 0);
    }
}
