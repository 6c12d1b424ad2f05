using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>Step 4: what remains at equal hardness, by the trend of the bench.</summary>
internal sealed class EqualHardnessStep
{
    private const double LargestReach = 0.5, LowestReliability = 0.5;
    public const string BetweenHeats = "between heats of a source", BetweenTreatments = "between treatments of a heat", Bent = "bent", Straight = "straight";

    private readonly LotData _lots;
    private readonly AsTestedStep _asTested;
    private readonly IReadOnlyList<TrendHeat> _heats;
    private readonly int _sources;
    private readonly Dictionary<int, TrendModel?> _models = [];
    private readonly double _hardnessVariance, _hardnessDf;
    private readonly double _candidateHrc, _referenceHrc;

    public EqualHardnessStep(LotData lots, AsTestedStep asTested, HistoryMatch? history)
    {
        (_lots, _asTested, _heats) = (lots, asTested, []);
        if (lots.Rule.Property.Name == PropertyTable.Hardness.Name)
            Refusal = Refuse(Reason.NoHardness, "The property compared is hardness itself.");
        else if (lots.Coupons.Any(c => LotReader.HasOtherScale(c.Row)) || history?.HasOtherHardnessScales == true)
            Refusal = Refuse(Reason.MixedHardnessScales, "Hardness was read on another scale than HRC. Read HRC directly; converted values are not pooled with it.");
        else if (!HardnessCoversTheContrast())
            Refusal = Refuse(Reason.NoHardness, "Hardness of the coupons of both lots is missing. Read it, in the loads that are compared.");
        else if (history is null || history.Coupons.All(c => double.IsNaN(c.Hardness)))
            Refusal = Refuse(Reason.NoHistory, history is null
                ? "There is no history of this kind of coupon to take the slope from."
                : "No coupon of the history matches the lots in kind and has a hardness.");
        if (Refusal is not null) return;

        HeatSet set = HeatSet.From(history!.Coupons.Where(c => !double.IsNaN(c.Hardness)));
        (_heats, _sources) = (set.Heats, set.Sources);
        (double squares, int df) = LotHardness();
        (_hardnessVariance, _hardnessDf) = ((set.HardnessSquares + squares) / Math.Max(1, set.HardnessDf + df), set.HardnessDf + df);
        (_candidateHrc, _referenceHrc) = (MeanHardness(true), MeanHardness(false));
        Trend = Fit(_sources, lots.Rule.SessionSd);
        Ladder = TreatmentLadder.Fit(_heats);
        Refusal = NamesLadder ? CheckLadder() : CheckTrend();
        if (Refusal is not null) return;
        // A bend picked for being seen is seen too large; where the slope itself is the margin, only the lots' place decides.
        IsBent = !NamesLadder && (lots.Rule.Kind == MarginKind.Hardness ? Trend!.Bent is not null && BentTrend.IsFarOff(Trend, MiddleHrc) : BentTrend.Serves(Trend!, MiddleHrc));
        Slope = Chosen();
    }

    /// <summary>Why the estimand is refused, with what is known; null when it stands.</summary>
    public EqualHardness? Refusal { get; private set; }

    /// <summary>The trend between heats; null when it cannot be fitted.</summary>
    public HeatTrend? Trend { get; }

    /// <summary>The same where it is good enough to be used.</summary>
    public HeatTrend? UsableTrend => Trend is { } trend && IsReliable(trend) ? trend : null;

    /// <summary>Whether the heats of a trend differ in hardness by enough beside its error.</summary>
    public static bool IsReliable(HeatTrend trend) => trend.Attenuation >= LowestReliability;

    /// <summary>True when the slope is the tangent of a bent trend at the lots' hardness; false when refused or the slope is a ladder's.</summary>
    public bool IsBent { get; }

    /// <summary>The slope of a trend for these lots, in the shape that the trend is taken to have.</summary>
    public SlopeOnHardness SlopeOf(HeatTrend trend) => IsBent && trend.Bent is { } bent ? bent.TangentAt(MiddleHrc) : StraightSlopeOf(trend);

    /// <summary>The slope for heats of the sources, which lie wherever they lie: along the bend only where the lots' place asks for it, because a bend picked for being seen is seen too large.</summary>
    public SlopeOnHardness? SlopeOfSources => !IsBent || BentTrend.IsFarOff(Trend!, MiddleHrc) ? Slope : StraightSlopeOf(Trend!);

    /// <summary>The slope of the straight line.</summary>
    public static SlopeOnHardness StraightSlopeOf(HeatTrend trend) => new(trend.Slope, trend.SlopeSe, trend.DegreesOfFreedom);

    /// <summary>The slope between treatments of the history's heats; null where no heat has several.</summary>
    public TreatmentLadder? Ladder { get; }

    /// <summary>True when the rule names the slope of a temper ladder.</summary>
    public bool NamesLadder => _lots.Rule.Rule.LadderSlope;

    /// <summary>The slope that is used; null when refused.</summary>
    public SlopeOnHardness? Slope { get; }

    public double HardnessVariance => _hardnessVariance;

    /// <summary>Candidate less reference, HRC, weighted as the comparison is.</summary>
    public double HardnessDifference { get; private set; }

    /// <summary>Σ w²/n of the coupons whose hardness enters.</summary>
    private double _hardnessUnit;

    /// <summary>Variance parts other than the slope's.</summary>
    public IReadOnlyList<VariancePart> PartsBesideSlope(double slope, IReadOnlyList<VariancePart> lotParts)
    {
        List<VariancePart> parts = [.. lotParts, new("hardness", slope * slope * _hardnessVariance * _hardnessUnit, _hardnessDf)];
        double session = _lots.Rule.SessionSd;
        if (_lots.Rule.Rule.SeparateSessions && session > 0) parts.Add(new("session", 2 * slope * slope * session * session, double.PositiveInfinity));
        return parts;
    }

    /// <summary>θ − b·ΔH with its parts.</summary>
    public JudgedContrast Judge(ResolvedRule rule, SlopeOnHardness slope, IReadOnlyList<VariancePart> lotParts, double difference)
    {
        List<VariancePart> parts = [.. PartsBesideSlope(slope.Slope, lotParts)];
        parts.Insert(lotParts.Count, new("slope", HardnessDifference * HardnessDifference * slope.StandardError * slope.StandardError, slope.DegreesOfFreedom));
        return JudgedContrast.From(difference - slope.Slope * HardnessDifference, parts, rule);
    }

    /// <summary>The same against the margin of the rule, which may be in hardness.</summary>
    public JudgedContrast JudgeByMargin(ResolvedRule rule, SlopeOnHardness slope, IReadOnlyList<VariancePart> lotParts, double difference)
    {
        JudgedContrast judged = Judge(rule, slope, lotParts, difference);
        return rule.Kind == MarginKind.Hardness ? judged.AgainstHardness(difference, HardnessDifference, PartsBesideSlope(slope.Slope, lotParts), slope) : judged;
    }

    /// <summary>The trend under another choice of sources or session error; null when it cannot be fitted.</summary>
    public HeatTrend? Fit(int sources, double sessionSd) => Model(sources)?.Corrected(new(_hardnessVariance, _hardnessDf, sessionSd));

    /// <summary>The trend with no correction for error in hardness; null when it cannot be fitted.</summary>
    public HeatTrend? Uncorrected(int sources) => Model(sources)?.Corrected(new(0, _hardnessDf, 0));

    private TrendModel? Model(int sources)
    {
        if (!_models.TryGetValue(sources, out TrendModel? model)) _models[sources] = model = TrendModel.Fit(_heats, sources);
        return model;
    }

    /// <summary>Mean hardness of the two lots, HRC.</summary>
    public double MiddleHrc => 0.5 * (_candidateHrc + _referenceHrc);

    public int Sources => _sources;

    public EqualHardness Result(JudgedContrast judged, ResolvedRule rule)
    {
        SlopeOnHardness slope = Slope!.Value;
        HeatTrend? trend = UsableTrend;
        double half = Statistics.Distributions.StudentT.Quantile(0.975, slope.DegreesOfFreedom) * slope.StandardError;
        (double low, double high) = (slope.Slope - half, slope.Slope + half);
        TrendLine? line = trend is null ? null : TrendLine.Of(trend, IsBent);
        double level = line is { } t ? (IsBent ? t.At(_referenceHrc) : t.Level + slope.Slope * (_referenceHrc - t.CentreHrc)) : _lots.Mean(_lots.Z, false), worth = rule.IsLog ? Math.Exp(level) : 1;
        PerHrc perHrc = new(slope.Slope * worth, low * worth, high * worth, rule.Unit, _referenceHrc);
        double factor = rule.Hrc * Math.Abs(slope.Slope);
        return new EqualHardness(judged)
        {
            Heats = NamesLadder ? Ladder!.Heats : trend!.Heats,
            Sources = trend?.Sources,
            HardnessRange = NamesLadder ? [Ladder!.LowestHrc, Ladder.HighestHrc] : [trend!.LowestHrc, trend.HighestHrc],
            Attenuation = NamesLadder ? Ladder!.Reliability(_hardnessVariance) : trend!.Attenuation,
            SlopeUncorrected = trend?.SlopeUncorrected,
            SlopeUncorrectedSe = trend?.SlopeUncorrectedSe,
            SlopeKind = Kind,
            TrendShape = NamesLadder ? null : IsBent ? Bent : Straight,
            LogPerHrc = rule.IsLog ? new(slope.Slope, slope.StandardError, slope.DegreesOfFreedom, low, high, Kind) : null,
            PerHrc = perHrc,
            PerHrcOtherUnit = InOtherUnit(perHrc, rule.Property),
            HeatToHeatSd = line is null ? null : Math.Sqrt(line.HeatVariance),
            ResidualSd = trend is null ? null : Math.Sqrt(IsBent ? trend.Bent!.ResidualVariance : trend.ResidualVariance),
            HardnessSdWithinHeat = Math.Sqrt(_hardnessVariance),
            HardnessDifference = HardnessDifference,
            LotOffsets = trend is null ? null : new(Offset(trend, false), Offset(trend, true)),
            MarginAsRatio = rule.Kind == MarginKind.Hardness && rule.IsLog ? new(Math.Exp(factor), Math.Exp(-rule.Hrc * high), Math.Exp(-rule.Hrc * low), 0.95) : null,
            Trend = line,
            BetweenTreatments = Ladder is { } l && trend is not null ? new(l.Slope, l.StandardError, l.Heats, l.PEqual(trend), NamesLadder) : null,
            Notes = [.. EqualHardnessNotes.Of(this, trend, rule)],
        };
    }

    /// <summary>Which slope is used, in words.</summary>
    public string Kind => NamesLadder ? BetweenTreatments : BetweenHeats;

    private LotOffset Offset(HeatTrend trend, bool candidate)
    {
        double[] z = _lots.Of(_lots.Z, candidate);
        double mean = z.Average(), hrc = candidate ? _candidateHrc : _referenceHrc;
        double within = z.Length > 1 ? z.Sum(v => (v - mean) * (v - mean)) / (z.Length - 1) : trend.ResidualVariance;
        (double at, double variance, double df) = IsBent && trend.Bent is { } bent
            ? (bent.At(hrc), bent.PredictionVariance(within, z.Length, hrc, _hardnessVariance), bent.DegreesOfFreedom)
            : (trend.At(hrc), trend.PredictionVariance(within, z.Length, hrc, _hardnessVariance), trend.DegreesOfFreedom);
        double se = Math.Sqrt(variance), half = Statistics.Distributions.StudentT.Quantile(0.975, df) * se;
        return new(mean - at, se, [-half, half]);
    }

    /// <summary>The worth of 1 HRC in the trade's second unit; null where there is none.</summary>
    public static PerHrc? InOtherUnit(PerHrc worth, Property property)
    {
        if (property.Units.FirstOrDefault(u => u.Name != worth.Unit) is not { } other || property.FindUnit(worth.Unit) is null) return null;
        double Convert(double value) => property.Convert(value, worth.Unit, other.Name);
        return new(Convert(worth.Estimate), Convert(worth.Lower), Convert(worth.Upper), other.Name, worth.AtHrc);
    }

    private EqualHardness? CheckTrend()
    {
        if (_heats.Count - 2 < HeatTrend.FewestDf)
            return Refuse(Reason.TooFewHeats, $"The trend needs at least {HeatTrend.FewestDf + 2} heats of this kind with hardness; the history has {_heats.Count}.") with { Heats = _heats.Count, Needed = HeatTrend.FewestDf + 2 };
        if (Trend is not { } trend) return Refuse(Reason.HardnessSpreadTooSmall, "The heats of the history all have one hardness.") with { Heats = _heats.Count };
        EqualHardness known = new() { Heats = trend.Heats, Sources = trend.Sources, HardnessRange = [trend.LowestHrc, trend.HighestHrc], Attenuation = trend.Attenuation };
        if (!(trend.Attenuation >= LowestReliability))
            return known with
            {
                Refused = Reason.HardnessSpreadTooSmall,
                Missing = $"The heats of the history differ in hardness hardly more than its error (reliability {Figures.Fixed(trend.Attenuation, 2)}, at least {Figures.Fixed(LowestReliability, 1)} is needed). Test heats over a wider range, or read more indents.",
            };
        return CheckRange(known);
    }

    /// <summary>A ladder that the rule names needs no trend between heats: 3 levels over 2 HRC in 3 heats, and both lots within its range.</summary>
    private EqualHardness? CheckLadder()
    {
        if (Ladder is not { IsLadder: true } ladder)
            return Refuse(Reason.TooFewHeats, "The rule names the slope of a temper ladder, which takes 3 levels over at least 2 HRC in at least 3 heats; the history has no such ladder.") with { Heats = Ladder?.Heats, Needed = TreatmentLadder.FewestHeats };
        EqualHardness known = new() { Heats = ladder.Heats, HardnessRange = [ladder.LowestHrc, ladder.HighestHrc], Attenuation = ladder.Reliability(_hardnessVariance) };
        return known.Attenuation >= LowestReliability ? CheckRange(known)
            : known with { Refused = Reason.HardnessSpreadTooSmall, Missing = $"The levels of the history's ladders differ in hardness hardly more than its error (reliability {Figures.Fixed(known.Attenuation!.Value, 2)}, at least {Figures.Fixed(LowestReliability, 1)} is needed)." };
    }

    private EqualHardness? CheckRange(EqualHardness known)
    {
        (double low, double high) = (known.HardnessRange![0], known.HardnessRange[1]);
        double outside = new[] { low - _candidateHrc, _candidateHrc - high, low - _referenceHrc, _referenceHrc - high }.Max();
        return outside <= LargestReach ? null : known with
        {
            Refused = Reason.OutsideTheTrend,
            OutsideBy = outside,
            Missing = $"A lot lies {Figures.Fixed(outside, 1)} HRC outside the heats of the history ({Figures.Fixed(low, 1)} to {Figures.Fixed(high, 1)} HRC). Temper it into that range, or test heats that reach it.",
        };
    }

    private SlopeOnHardness Chosen() => NamesLadder && Ladder is { } ladder
        ? new(ladder.Slope, ladder.StandardError, ladder.DegreesOfFreedom)
        : SlopeOf(Trend!);

    /// <summary>ΔH by the weights of the comparison, over the coupons that hardness was read on; false when a cell has none.</summary>
    private bool HardnessCoversTheContrast()
    {
        LotContrast contrast = _asTested.Contrast;
        Dictionary<(bool, int), (double Weight, double Sum, int Count)> cells = [];
        for (int i = 0; i < _lots.Coupons.Count; i++)
        {
            if (contrast.Coefficients[i] == 0) continue;
            (bool, int) cell = (_lots.Candidate[i], _lots.SeveralHeats ? _lots.Heat[i] : _lots.Load[i]);
            (double weight, double sum, int count) = cells.GetValueOrDefault(cell);
            bool read = !double.IsNaN(_lots.Hardness[i]);
            cells[cell] = (weight + contrast.Coefficients[i], sum + (read ? _lots.Hardness[i] : 0), count + (read ? 1 : 0));
        }
        if (cells.Values.Any(c => c.Count == 0)) return false;
        HardnessDifference = cells.Values.Sum(c => c.Weight * c.Sum / c.Count);
        _hardnessUnit = cells.Values.Sum(c => c.Weight * c.Weight / c.Count);
        return true;
    }

    private double MeanHardness(bool candidate) => _lots.Of(_lots.Hardness, candidate).Where(h => !double.IsNaN(h)).Average();

    private (double Squares, int Df) LotHardness()
    {
        double squares = 0;
        int df = 0;
        for (int h = 0; h < _lots.Heats.Count; h++)
        {
            double[] read = [.. _lots.Hardness.Where((v, i) => _lots.Heat[i] == h && !double.IsNaN(v))];
            if (read.Length == 0) continue;
            double mean = read.Average();
            squares += read.Sum(v => (v - mean) * (v - mean));
            df += read.Length - 1;
        }
        return (squares, df);
    }

    private static EqualHardness Refuse(Reason reason, string missing) => new() { Refused = reason, Missing = missing };
}
