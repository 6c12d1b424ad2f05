using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Equivalence;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>Step 4 without history: both lots tested over one ladder of tempers are compared at equal hardness by the slope of their own ladders.</summary>
/// <remarks>The lots are then no single stratum, so that the comparison as tested is refused; only equal hardness is judged. Gates are those of step 3 and step 4, as far as they apply.</remarks>
internal sealed class LadderStep
{
    public const string SlopeKind = "within the lots, between levels of a temper ladder";

    private const int FewestCoupons = 3;
    private const double LowestReliability = 0.5, ParallelAlpha = 0.05, NoScatter = 1e-24;

    private readonly LotData _lots;
    private readonly LotLadder _ladder;
    private readonly HeatTrend? _betweenHeats;
    private readonly double _hardnessVariance;
    private readonly double? _reliability;
    private readonly (double Low, double High) _overlap;

    public LadderStep(LotData lots, LotLadder ladder, ResolvedRule rule, HistoryMatch? history)
    {
        (_lots, _ladder, Rule) = (lots, ladder, rule);
        Refusal = Gate();
        if (Refusal is not null) return;
        (double low, double high) reference = Range(false), candidate = Range(true);
        _overlap = (Math.Max(reference.low, candidate.low), Math.Min(reference.high, candidate.high));
        (_hardnessVariance, int df) = WithinLevels();
        if (Enumerable.Range(0, lots.Heats.Count).Any(h => ladder.Levels.Where(l => l.Heat == h).Select(l => l.Hardness).Distinct().Count() < 2))
        {
            Refusal = Refuse(Reason.HardnessSpreadTooSmall, "The levels of the ladder all have one hardness in a heat. Temper over at least 2 HRC.");
            return;
        }
        Contrast = LadderContrast.Fit(lots.Z, lots.Candidate, [.. lots.Heat.Select(h => lots.Heats[h])], LevelHardness());
        // With one coupon a level nothing is known of the error of its hardness.
        _reliability = df > 0 ? 1 - _hardnessVariance * (ladder.Levels.Count - lots.Heats.Count) / Contrast.HardnessSquares : null;
        _betweenHeats = BetweenHeats(history);
        Refusal = GateOfLines(reference, candidate);
        if (Refusal is null) ResolveMargin();
    }

    /// <summary>Why equal hardness is refused; null when it stands.</summary>
    public EqualHardness? Refusal { get; private set; }

    /// <summary>The rule, with ratio limits in place of an absolute or hardness margin.</summary>
    public ResolvedRule Rule { get; private set; }

    /// <summary>The contrast; null when refused before it could be made.</summary>
    public LadderContrast? Contrast { get; }

    /// <summary>The comparison at equal hardness, or its refusal.</summary>
    public EqualHardness Result => Refusal ?? Describe(Judge(), Contrast!);

    /// <summary>θ − b·ΔH against the margin.</summary>
    public JudgedContrast Judge()
    {
        JudgedContrast judged = JudgedContrast.Against(Rule.Limits, Contrast!.Estimate, Parts(Contrast), Rule);
        return Rule.Kind == MarginKind.Hardness ? judged.AgainstHardness(Contrast.Direct, Contrast.HardnessDifference, Contrast.Slope, (psi, times, _) => Contrast.Holding(psi, times)) : judged;
    }

    /// <summary>Change of the comparison without each coupon, in the order of the lots.</summary>
    public double?[] ChangeWithoutEach(ResolvedRule rule) =>
        [.. Enumerable.Range(0, _lots.Coupons.Count).Select(i => Without(i, rule) is { Contrast: { } rest, Refusal: null } ? rest.Estimate.Estimate - Contrast!.Estimate.Estimate : (double?)null)];

    /// <summary>The outcome under other reasonable choices, and the coupons without which it would be another.</summary>
    /// <param name="main">The outcome itself.</param>
    /// <param name="withExcluded">The outcome with exclusions undone; null when there are none.</param>
    /// <param name="rule">The rule before its margin was turned into a ratio.</param>
    public (Variants Variants, IReadOnlyDictionary<string, Outcome> Flips) Firmness(Outcome main, Outcome? withExcluded, ResolvedRule rule)
    {
        Dictionary<string, Outcome> outcomes = [], flips = [];
        for (int i = 0; i < _lots.Coupons.Count; i++)
            if (Without(i, rule) is { Refusal: null } rest && rest.Judge().Outcome is var other && other != main) flips[_lots.NameOf(i)] = other;
        outcomes["anyOneCouponLeftOut"] = flips.Count > 0 ? flips.First().Value : main;
        if (withExcluded is { } undone) outcomes["exclusionsUndone"] = undone;
        outcomes["ownSlopes"] = JudgedContrast.Against(Rule.Limits, Contrast!.OnOwnLines((_overlap.Low + _overlap.High) / 2), [], Rule).Outcome;
        if (_reliability is { } reliability)
        {
            ContrastEstimate steeper = Contrast.Holding(Contrast.Direct - Contrast.Slope / reliability * Contrast.HardnessDifference, Contrast.HardnessDifference / reliability);
            outcomes["slopeCorrected"] = JudgedContrast.Against(Rule.Limits, steeper, [], Rule).Outcome;
        }
        if (Rule.Kind == MarginKind.Hardness) outcomes["marginAsNumber"] = JudgedContrast.Against(Rule.Limits, Contrast.Estimate, [], Rule).Outcome;
        return (new(outcomes.Values.Count(o => o == main), outcomes.Count, outcomes), flips);
    }

    /// <summary>Smallest number of coupons a lot, spread over the levels as they are: V falls as 1/n, ν = 2n − 3.</summary>
    public CouponsToSettle ToSettle()
    {
        ContrastEstimate now = Contrast!.Estimate;
        double each = now.StandardError * now.StandardError * 2 / (Contrast.CandidateUnit + Contrast.ReferenceUnit);
        (double low, double high) = Rule.Limits;
        NumberToSettle? Smallest(double truth) => !(truth > low && truth < high) ? null
            : EquivalencePower.SmallestNumber(n => EquivalencePower.Of(Math.Sqrt(each / n), 2 * n - 3, truth, low, high, Rule.Alpha), 0.8, SettleStep.MostCoupons) is { } number
                ? new(number) : new(SettleStep.MostCoupons, true);
        return new(Smallest(0), Smallest(now.Estimate));
    }

    private LadderStep? Without(int coupon, ResolvedRule rule)
    {
        LotData rest = _lots.Without(coupon);
        return rest.Heats.Count == _lots.Heats.Count && LotLadder.Of(rest).Ladder is { } ladder ? new(rest, ladder, rule, null) : null;
    }

    private EqualHardness? Gate()
    {
        int fewest = Math.Min(_lots.Count(true), _lots.Count(false));
        if (Rule.Property.Name == PropertyTable.Hardness.Name) return Refuse(Reason.NoHardness, "The property compared is hardness itself.");
        if (_lots.HasBounds) return Refuse(Reason.TooManyCensored, "Some coupons of the ladder have only a bound, and the comparison over a ladder needs a value of every coupon.");
        if (fewest < FewestCoupons) return Refuse(Reason.TooFew, $"A lot has {fewest} valid coupons and at least {FewestCoupons} are needed.");
        if (_lots.Coupons.Count <= 2 * _lots.Heats.Count) return Refuse(Reason.TooFew, "The ladder leaves no degrees of freedom to test whether the lots' lines are parallel. Test more coupons.");
        if (_lots.Coupons.Any(c => LotReader.HasOtherScale(c.Row))) return Refuse(Reason.MixedHardnessScales, "Hardness was read on another scale than HRC. Read HRC directly; converted values are not pooled with it.");
        if (_ladder.Levels.FirstOrDefault(l => double.IsNaN(l.Hardness)) is { } unread)
            return Refuse(Reason.NoHardness, $"Hardness of {_lots.Heats[unread.Heat]} at {unread.Treatment} is missing. Read it on the coupons of every level.");
        return _lots.LoadsRecorded && !Enumerable.Range(0, _lots.Loads.Count).Any(l => InLoad(l).Any(i => _lots.Candidate[i]) && InLoad(l).Any(i => !_lots.Candidate[i]))
            ? Refuse(Reason.ConfoundedLoads, "No furnace load holds both lots, so that lot and load cannot be separated.")
            : null;
    }

    private IEnumerable<int> InLoad(int load) => Enumerable.Range(0, _lots.Coupons.Count).Where(i => _lots.Load[i] == load);

    private EqualHardness? GateOfLines((double Low, double High) reference, (double Low, double High) candidate)
    {
        if (!(_overlap.Low < _overlap.High))
            return Refuse(Reason.OutsideTheTrend, $"The two ladders do not overlap in hardness (reference {Span(reference)}, candidate {Span(candidate)}). Temper the lots at levels that bring them to the same hardness.")
                with
            { OutsideBy = _overlap.Low - _overlap.High };
        if (_reliability < LowestReliability)
            return Refuse(Reason.HardnessSpreadTooSmall, $"The levels of the ladders differ in hardness hardly more than its error (reliability {Figures.Fixed(_reliability.Value, 2)}, at least {Figures.Fixed(LowestReliability, 1)} is needed). Temper over a wider range, or read more indents.")
                with
            { Attenuation = _reliability };
        double spread = _lots.Z.Sum(z => z * z);
        if (Contrast!.ResidualVariance * Contrast.DegreesOfFreedom <= NoScatter * Math.Max(1, spread))
            return Refuse(Reason.ZeroScatter, "All coupons lie on the lines exactly, so that their scatter cannot be estimated. Read to a finer digit, or test more coupons.");
        return Contrast.ParallelismP >= ParallelAlpha ? null : Refuse(Reason.StrataDiffer,
            $"The lots' lines against hardness are not parallel ({Figures.P(Contrast.ParallelismP)}), so that no one {(Rule.IsLog ? "ratio" : "difference")} holds at equal hardness: on its own line each, {Size(_overlap.Low)} and {Size(_overlap.High)}. Compare the lots at one treatment, or over a narrower ladder.")
            with
        { SlopeKind = SlopeKind, Attenuation = _reliability, HardnessDifference = Contrast.HardnessDifference, Ladder = Ladder(Contrast) };
    }

    private void ResolveMargin()
    {
        if (Rule.Kind == MarginKind.Absolute && Rule.IsLog)
        {
            double share = Rule.PlusMinus / _lots.Mean(_lots.Y, false);
            Rule = Rule.WithRatio(Math.Max(1 - share, double.Epsilon), 1 + share);
        }
        if (Rule.Kind != MarginKind.Hardness) return;
        double change = Rule.Hrc * Math.Abs(Contrast!.Slope);
        Rule = Rule.IsLog ? Rule.WithRatio(Math.Exp(-change), Math.Exp(change)) : Rule with { PlusMinus = change };
        if (!(SlopeInterval(Contrast).Upper < 0))
            Refusal = Describe(Judge(), Contrast) with { Outcome = null, Answer = null, Refused = Reason.MarginNotResolved, Missing = "The margin is in hardness and the 95 % interval of the ladder's slope is not below 0, so that the margin has no size in the property." };
    }

    private static (double Lower, double Upper) SlopeInterval(LadderContrast c) => new ContrastEstimate(c.Slope, c.SlopeSe, c.DegreesOfFreedom).Interval(0.95);

    private static List<VariancePart> Parts(LadderContrast c) =>
    [
        new("candidate", c.ResidualVariance * c.CandidateUnit, c.DegreesOfFreedom), new("reference", c.ResidualVariance * c.ReferenceUnit, c.DegreesOfFreedom),
        new("slope", c.HardnessDifference * c.HardnessDifference * c.SlopeSe * c.SlopeSe, c.DegreesOfFreedom),
    ];

    private EqualHardness Describe(JudgedContrast judged, LadderContrast c)
    {
        (double low, double high) = SlopeInterval(c);
        double[] levels = LevelHardness();
        double atHrc = levels.Where((_, i) => !_lots.Candidate[i]).Average(), worth = Rule.IsLog ? Math.Exp(_lots.Mean(_lots.Z, false)) : 1;
        PerHrc perHrc = new(c.Slope * worth, low * worth, high * worth, Rule.Unit, atHrc);
        double factor = Rule.Hrc * Math.Abs(c.Slope);
        return new EqualHardness(judged)
        {
            SlopeKind = SlopeKind,
            Attenuation = _reliability,
            LogPerHrc = Rule.IsLog ? new(c.Slope, c.SlopeSe, c.DegreesOfFreedom, low, high, SlopeKind) : null,
            PerHrc = perHrc,
            PerHrcOtherUnit = EqualHardnessStep.InOtherUnit(perHrc, Rule.Property),
            ResidualSd = Math.Sqrt(c.ResidualVariance),
            HardnessSdWithinHeat = _reliability is null ? null : Math.Sqrt(_hardnessVariance),
            HardnessDifference = c.HardnessDifference,
            MarginAsRatio = Rule.Kind == MarginKind.Hardness && Rule.IsLog ? new(Math.Exp(factor), Math.Exp(-Rule.Hrc * high), Math.Exp(-Rule.Hrc * low), 0.95) : null,
            Ladder = Ladder(c),
            Notes = Notes(c),
        };
    }

    private LadderOfLots Ladder(LadderContrast c) => new([.. _ladder.Levels.Select(Level)], [_overlap.Low, _overlap.High], c.ParallelismF, c.ParallelismDf, c.ParallelismP, AgainstHeats(c));

    private LevelOfLadder Level(LadderLevel level)
    {
        double mean = level.Places.Average(i => _lots.Z[i]);
        return new(_lots.Heats[level.Heat], level.IsCandidate ? "candidate" : "reference", level.Treatment, level.Places.Count, level.Hardness, Rule.IsLog ? Math.Exp(mean) : mean);
    }

    private List<string> Notes(LadderContrast c)
    {
        List<string> notes =
        [
            $"Analysis of covariance of the lots' own temper ladders: z = {(_lots.SeveralHeats ? "heat" : "lot")} + slope × mean hardness of the level, one variance, {c.DegreesOfFreedom} degrees of freedom; no history is used (Fisher 1932).",
            $"Parallel lines: F = {Figures.Fixed(c.ParallelismF, 2)}, {Figures.P(c.ParallelismP)}. The comparison is for {Span(_overlap)}, where the ladders overlap.",
            $"The slope is what tuning the treatment changes, not what heats of other hardness show. {(_reliability is { } reliability ? $"Reliability of the level means of hardness {Figures.Fixed(reliability, 2)}; the slope is not corrected for it." : "One coupon a level: the error of its hardness is not known, and the slope is not corrected for it.")}",
        ];
        if (AgainstHeats(c) is { } heats) notes.Add($"Slope between heats of the history {Figures.Fixed(heats.Estimate, 3)} per HRC; equal to that of the ladders: {Figures.P(heats.PEqual)}. The slope {SlopeKind} was used.");
        if (_lots.LoadsRecorded && _lots.Loads.Count > 1) notes.Add("Furnace loads are not in the model: a load that holds one lot only adds its own error to that lot.");
        else if (!_lots.LoadsRecorded) notes.Add("Furnace loads are not recorded for every coupon: a difference between loads would count as a difference between lots or levels.");
        if (_lots.SeveralHeats) notes.Add("Heats of a role weigh equally; the answer is about these heats.");
        if (Rule.Rule.Scatter == ScatterChoice.Lent) notes.Add("No scatter is lent over a temper ladder.");
        return notes;
    }

    private string Size(double hrc)
    {
        ContrastEstimate contrast = Contrast!.OnOwnLines(hrc);
        (double lower, double upper) = contrast.Interval(1 - Rule.Alpha);
        (string e, string l, string u) = Rule.IsLog ? Figures.Interval(Math.Exp(contrast.Estimate), Math.Exp(lower), Math.Exp(upper)) : Figures.Interval(contrast.Estimate, lower, upper);
        return $"{e} ({l} to {u}) at {Figures.Fixed(hrc, 1)} HRC";
    }

    /// <summary>The slope between heats of the history, and whether that of the ladders equals it; null where there is no usable trend.</summary>
    private SlopeBetweenHeats? AgainstHeats(LadderContrast c)
    {
        if (_betweenHeats is not { } trend) return null;
        double own = c.SlopeSe * c.SlopeSe, other = trend.SlopeSe * trend.SlopeSe, sum = own + other;
        double df = sum * sum / (own * own / c.DegreesOfFreedom + other * other / trend.DegreesOfFreedom);
        return new(trend.Slope, trend.SlopeSe, trend.Heats, StudentT.TwoSided((c.Slope - trend.Slope) / Math.Sqrt(sum), df));
    }

    private HeatTrend? BetweenHeats(HistoryMatch? history)
    {
        if (history is null || history.HasOtherHardnessScales) return null;
        HeatSet set = HeatSet.From(history.Coupons.Where(h => !double.IsNaN(h.Hardness)));
        if (set.Heats.Count - 2 < HeatTrend.FewestDf) return null;
        HardnessError error = new(set.HardnessSquares / Math.Max(1, set.HardnessDf), set.HardnessDf, Rule.SessionSd);
        return HeatTrend.Fit(set.Heats, set.Sources, error) is { Attenuation: >= LowestReliability } trend ? trend : null;
    }

    private double[] LevelHardness()
    {
        double[] x = new double[_lots.Coupons.Count];
        foreach (LadderLevel level in _ladder.Levels)
            foreach (int i in level.Places) x[i] = level.Hardness;
        return x;
    }

    /// <summary>Pooled variance of coupon hardness inside a level, and its degrees of freedom.</summary>
    private (double Variance, int Df) WithinLevels()
    {
        double squares = 0;
        int df = 0;
        foreach (LadderLevel level in _ladder.Levels)
        {
            double[] read = [.. level.Places.Select(i => _lots.Hardness[i]).Where(h => !double.IsNaN(h))];
            squares += read.Sum(h => (h - level.Hardness) * (h - level.Hardness));
            df += read.Length - 1;
        }
        return (df > 0 ? squares / df : 0, df);
    }

    private (double Low, double High) Range(bool candidate)
    {
        double[] hardness = [.. _ladder.Levels.Where(l => l.IsCandidate == candidate).Select(l => l.Hardness)];
        return (hardness.Min(), hardness.Max());
    }

    private static string Span((double Low, double High) range) => $"{Figures.Fixed(range.Low, 1)} to {Figures.Fixed(range.High, 1)} HRC";

    private static EqualHardness Refuse(Reason reason, string missing) => new() { Refused = reason, Missing = missing };
}
