using Meltwise.Statistics;
using Meltwise.Statistics.Bayesian;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Equivalence;
using Meltwise.Statistics.MixedModels;
using Meltwise.Statistics.Sources;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>Step 5: the two sources in general, with the heat as the random unit.</summary>
internal sealed class SourcesStep
{
    private const int MostHeats = 50, FewestHeatDf = 6, FewestHeatDfWithTwoEach = 2;

    /// <summary>Half-normal prior of the heat-to-heat standard deviation of the logarithms: weak beside the 0.03 to 0.12 assumed where none is known, and it forbids the absurd with few heats.</summary>
    private const double PriorScale = 0.25;

    private static readonly double[] s_assumedTau = [0.03, 0.06, 0.12];

    private readonly LotData _lots;
    private readonly ResolvedRule _rule;
    private readonly SlopeOnHardness? _slope;
    private readonly List<SourceHeat> _heats = [];
    private readonly List<double[]> _coupons = [];
    private readonly Dictionary<string, int> _sources = new(StringComparer.OrdinalIgnoreCase);

    public SourcesStep(LotData lots, EqualHardnessStep equalHardness, HistoryMatch? history, ResolvedRule rule)
    {
        (_lots, _rule, _slope) = (lots, rule, equalHardness.SlopeOfSources);
        string?[] candidate = SourcesOf(true), reference = SourcesOf(false);
        Result = candidate.Contains(null) || reference.Contains(null)
            ? new() { Refused = Reason.SourcesNotNamed, Missing = "The sources of the lots are not named. Name the source of every heat." }
            : candidate.Length > 1 || reference.Length > 1 || string.Equals(candidate[0], reference[0], StringComparison.OrdinalIgnoreCase)
                ? new() { Refused = Reason.OneSource, Missing = "Each role must be of one source, and the two sources must differ." }
                : Judge(candidate[0]!, reference[0]!, history);
    }

    public SourcesInGeneral Result { get; }

    /// <summary>Shown only: the posterior of the same contrast. Null where it is not judged, on a linear scale, for a hardness margin, and without scatter within heats.</summary>
    public SourcesPosterior? Posterior { get; private set; }

    /// <summary>The outcome by Kenward and Roger on the model of all coupons, and with the lots' own variances.</summary>
    public Variants Variants(Outcome main)
    {
        Dictionary<string, Outcome> outcomes = [];
        if (Fit(lotsOwnVariances: true) is { } own) outcomes["lotsOwnVariances"] = Against(own).Outcome;
        if (_rule.Kind != MarginKind.Hardness && KenwardRoger() is { } contrast) outcomes["kenwardRoger"] = JudgedContrast.Against(_rule.Limits, contrast, [], _rule).Outcome;
        return new(outcomes.Values.Count(o => o == main), outcomes.Count, outcomes);
    }

    private SourcesInGeneral Judge(string candidate, string reference, HistoryMatch? history)
    {
        Gather(history, candidate, reference);
        int ofCandidate = _heats.Count(h => h.Source == 0), ofReference = _heats.Count(h => h.Source == 1);
        int heatDf = _heats.Count - _sources.Count - (_slope is null ? 0 : 1), needed = Math.Min(ofCandidate, ofReference) >= 2 ? FewestHeatDfWithTwoEach : FewestHeatDf;
        SourcesInGeneral known = new()
        {
            CandidateSource = candidate,
            ReferenceSource = reference,
            HeatsOfCandidateSource = ofCandidate,
            HeatsOfReferenceSource = ofReference,
            HeatsInAll = _heats.Count,
        };
        return heatDf >= needed && Fit(lotsOwnVariances: false) is { } contrast ? Describe(known, contrast) : known with
        {
            Refused = Reason.HeatToHeatScatterUnknown,
            HeatDf = heatDf,
            Needed = needed,
            HeatsToSettleIf = Assumed(),
            Missing = $"The scatter from heat to heat is not known: {_heats.Count} heats of {_sources.Count} sources leave {heatDf} degrees of freedom, {needed} are needed. One heat of a source cannot speak for the source.",
        };
    }

    private SourceContrast? Fit(bool lotsOwnVariances) => SourceContrast.Fit(_heats, _sources.Count, 0, 1, _slope, lotsOwnVariances);

    private JudgedContrast Against(SourceContrast contrast)
    {
        List<VariancePart> parts = [new("heats", contrast.VarianceOfContrast, contrast.DegreesOfFreedomOfContrast)];
        if (_slope is { } b) parts.Add(new("slope", contrast.VarianceFromSlope, b.DegreesOfFreedom));
        JudgedContrast judged = JudgedContrast.Against(_rule.Limits, contrast.Estimate, parts, _rule);
        if (_rule.Kind != MarginKind.Hardness || _slope is not { } s) return judged;
        // A bend is in the estimate already, and goes with it into the variance of both distances.
        return judged.AgainstHardness(contrast.Estimate.Estimate + contrast.HardnessDifference * s.Slope, contrast.HardnessDifference, s.Slope, (psi, times, sign) =>
            ContrastEstimate.FromParts(psi, [parts[0], new("slope", s.Variance(times, sign * contrast.SquaresDifference), s.DegreesOfFreedom)]));
    }

    private SourcesInGeneral Describe(SourcesInGeneral known, SourceContrast contrast)
    {
        double tau = Math.Sqrt(contrast.HeatVariance), coupons = Math.Round(_heats.Where(h => h.IsEnquiry).Average(h => h.Count), MidpointRounding.ToEven);
        Posterior = ByQuadrature();
        bool single = Math.Min(known.HeatsOfCandidateSource!.Value, known.HeatsOfReferenceSource!.Value) == 1;
        bool oneEach = known.HeatsOfCandidateSource == 1 && known.HeatsOfReferenceSource == 1;
        return new SourcesInGeneral(Against(contrast))
        {
            Basis = _slope is null ? "as-tested" : "equal-hardness",
            CandidateSource = known.CandidateSource,
            ReferenceSource = known.ReferenceSource,
            HeatsOfCandidateSource = known.HeatsOfCandidateSource,
            HeatsOfReferenceSource = known.HeatsOfReferenceSource,
            HeatsInAll = known.HeatsInAll,
            HeatToHeatSd = tau,
            ResidualSd = Math.Sqrt(contrast.ResidualVariance),
            VarianceOfHeatVariance = contrast.VarianceOfHeatVariance,
            VarianceOfContrast = contrast.VarianceOfContrast,
            VarianceFromSlope = contrast.VarianceFromSlope,
            HeatsToSettle = ToSettle(contrast.HeatVariance, contrast.ResidualVariance, coupons),
            FactorWithOneHeatEach = oneEach && _rule.IsLog ? Math.Exp(1.645 * Math.Sqrt(2) * tau) : null,
            Note = single ? "one heat of a source: the interval rests on the heat-to-heat scatter of other heats" : null,
            Notes =
            [
                $"The heat is the random unit: {known.HeatsOfCandidateSource} of {known.CandidateSource}, {known.HeatsOfReferenceSource} of {known.ReferenceSource}, {known.HeatsInAll} in all; {(_slope is null ? "as tested" : _slope.Value.Bend is null ? "at equal hardness" : "at equal hardness, along the bent trend")}.",
                "Degrees of freedom count heats, never coupons (Satterthwaite 1946 on the expected information of the variances).",
                .. Posterior is { } p ? [ShownWords.Of(p)] : Array.Empty<string>(),
            ],
        };
    }

    private SourcesPosterior? ByQuadrature()
    {
        if (!_rule.IsLog || _rule.Kind == MarginKind.Hardness || !_heats.Any(h => h.SquaresWithin > 0)) return null;
        SourcePosterior posterior = new(_heats, _sources.Count, 0, 1, _slope, PriorScale);
        (double low, double high) = _rule.Limits;
        (double lower, double upper) = posterior.Interval(0.95);
        double below = posterior.Cdf(low), atMost = posterior.Cdf(high);
        double[] heats = [.. new[] { 0.025, 0.5, 0.975 }.Select(posterior.HeatSdQuantile)];
        return new(new(Math.Exp(posterior.Median), Math.Exp(lower), Math.Exp(upper), 0.95), Math.Clamp(atMost - below, 0, 1), Math.Clamp(below, 0, 1), Math.Clamp(1 - atMost, 0, 1), heats[1], new(heats[0], heats[2]), PriorScale);
    }

    /// <summary>Smallest number of heats a source with a chance of 0.8 to show agreement when the sources do not differ.</summary>
    private NumberToSettle ToSettle(double heatVariance, double residualVariance, double coupons)
    {
        (double low, double high) = _rule.Limits;
        int? heats = EquivalencePower.SmallestNumber(
            h => EquivalencePower.Of(Math.Sqrt(2 * (heatVariance + residualVariance / coupons) / h), 2 * h - 2, 0, low, high, _rule.Alpha), 0.8, MostHeats);
        return heats is { } number ? new(number) : new(MostHeats, true);
    }

    private List<AssumedHeats>? Assumed()
    {
        if (!_rule.IsLog || _lots.Contrast(_lots.Z) is not { } contrast || _rule.Low <= 0) return null;
        double variance = contrast.Scatter.Average(s => s.Variance), coupons = Math.Round((double)_lots.Coupons.Count / _lots.Heats.Count, MidpointRounding.ToEven);
        return [.. s_assumedTau.Select(tau => new AssumedHeats(tau, ToSettle(tau * tau, variance, coupons)))];
    }

    private ContrastEstimate? KenwardRoger()
    {
        int n = _coupons.Sum(c => c.Length), columns = _sources.Count + (_slope is null ? 0 : _slope.Value.Bend is null ? 1 : 2);
        double[] y = [.. _coupons.SelectMany(c => c)];
        double[][] design = [.. Enumerable.Range(0, columns).Select(_ => new double[n])];
        int[] heat = new int[n];
        double middle = _slope?.Bend?.AtHrc ?? _heats.Average(h => h.MeanHardness);
        int row = 0;
        for (int h = 0; h < _heats.Count; h++)
        {
            for (int i = 0; i < _coupons[h].Length; i++, row++)
            {
                heat[row] = h;
                design[_heats[h].Source][row] = 1;
                double x = _heats[h].MeanHardness - middle;
                if (_slope is not null) design[_sources.Count][row] = x;
                if (_slope is { Bend: not null }) design[_sources.Count + 1][row] = x * x;
            }
        }
        try
        {
            RandomTerm heats = new("heat", heat, [.. Enumerable.Range(0, _heats.Count).Select(h => h.ToString(System.Globalization.CultureInfo.InvariantCulture))]);
            MixedFit fit = LinearMixedModel.Fit(y, design, [.. design.Select((_, j) => $"column {j}")], [heats]);
            MixedContrast contrast = fit.Contrast([1, -1, .. new double[columns - 2]]);
            return double.IsFinite(contrast.StandardError) && contrast.DegreesOfFreedom >= 1 ? new(contrast.Estimate, contrast.StandardError, contrast.DegreesOfFreedom) : null;
        }
        catch (InsufficientDataException)
        {
            return null;
        }
    }

    private string?[] SourcesOf(bool candidate) =>
        [.. _lots.Coupons.Where(c => c.IsCandidate == candidate).Select(c => c.Row.Source).Distinct(StringComparer.OrdinalIgnoreCase)];

    /// <summary>All heats of the stratum: those of the lots, and those of the history with the lots' treatment; with a slope, only heats whose hardness is known.</summary>
    private void Gather(HistoryMatch? history, string candidate, string reference)
    {
        (_sources[candidate], _sources[reference]) = (0, 1);
        for (int h = 0; h < _lots.Heats.Count; h++)
        {
            int[] rows = [.. Enumerable.Range(0, _lots.Coupons.Count).Where(i => _lots.Heat[i] == h)];
            Add(_lots.Coupons[rows[0]].Row.Source, true, [.. rows.Select(i => _lots.Z[i])], rows.Select(i => _lots.Hardness[i]));
        }
        string? treatment = StratumCheck.Shared(_lots.Coupons, r => r.Treatment);
        IEnumerable<HistoryCoupon> stratum = (history?.Coupons ?? [])
            .Where(c => treatment is null || !history!.RecordsTreatment || string.Equals(c.Row.Treatment, treatment, StringComparison.OrdinalIgnoreCase));
        if (_slope is not null) stratum = stratum.Where(c => !double.IsNaN(c.Hardness));
        foreach (IGrouping<string, HistoryCoupon> heat in stratum.GroupBy(c => c.Row.Heat, StringComparer.OrdinalIgnoreCase))
            Add(heat.First().Row.Source, false, [.. heat.Select(c => c.Z)], heat.Select(c => c.Hardness));
    }

    private void Add(string? source, bool enquiry, double[] z, IEnumerable<double> hardness)
    {
        double mean = z.Average();
        double[] read = [.. hardness.Where(h => !double.IsNaN(h))];
        _heats.Add(new(HeatSet.SourceIndex(_sources, source), enquiry, z.Length, mean, z.Sum(v => (v - mean) * (v - mean)), read.Length > 0 ? read.Average() : 0));
        _coupons.Add(z);
    }
}
