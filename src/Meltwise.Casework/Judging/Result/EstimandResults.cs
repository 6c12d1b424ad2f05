using System.Text.Json.Serialization;

namespace Meltwise.Casework.Judging;

/// <summary>An interval for a ratio.</summary>
/// <param name="Estimate">The estimate.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Level">Confidence level.</param>
public sealed record RatioInterval(double Estimate, double Lower, double Upper, double Level);

/// <summary>An interval for a difference.</summary>
/// <param name="Estimate">The estimate.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Level">Confidence level.</param>
/// <param name="Unit">Unit.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom, where they are its own.</param>
public sealed record DifferenceInterval(double Estimate, double Lower, double Upper, double Level, string Unit, double? DegreesOfFreedom = null);

/// <summary>What every estimand has. A refused one has only <see cref="Refused"/> and what is missing.</summary>
public abstract record EstimandResult
{
    /// <summary>Nothing filled in.</summary>
    protected EstimandResult() { }

    /// <summary>The numbers of a judged contrast.</summary>
    private protected EstimandResult(JudgedContrast judged)
    {
        (double lower, double upper) = judged.Wide;
        (double narrowLower, double narrowUpper) = judged.Narrow;
        double level = 1 - judged.Rule.Alpha, narrow = 1 - 2 * judged.Rule.Alpha, estimate = judged.Estimate.Estimate;
        if (judged.Rule.IsLog)
        {
            LogRatio = estimate;
            Ratio = new(Math.Exp(estimate), Math.Exp(lower), Math.Exp(upper), level);
            RatioForMargin = new(Math.Exp(estimate), Math.Exp(narrowLower), Math.Exp(narrowUpper), narrow);
        }
        else
        {
            Difference = new(estimate, lower, upper, level, judged.Rule.Unit, judged.Estimate.DegreesOfFreedom);
            DifferenceForMargin = new(estimate, narrowLower, narrowUpper, narrow, judged.Rule.Unit);
        }
        StandardError = judged.Estimate.StandardError;
        DegreesOfFreedom = judged.Estimate.DegreesOfFreedom;
        PDifference = judged.PDifference;
        PEquivalence = judged.PEquivalence;
        Outcome = judged.Outcome;
        Answer = judged.Answer;
        MarginContrasts = judged.MarginContrasts;
        VarianceParts = judged.Parts.ToDictionary(p => p.Name, p => p.Variance);
        PartDegreesOfFreedom = judged.Parts.Where(p => double.IsFinite(p.DegreesOfFreedom)).ToDictionary(p => p.Name, p => p.DegreesOfFreedom);
    }

    /// <summary>Why it is refused; null when it is not.</summary>
    public Reason? Refused { get; init; }

    /// <summary>The number that would be needed (heats for equal hardness, degrees of freedom among heats for sources).</summary>
    public int? Needed { get; init; }

    /// <summary>What is missing, in words.</summary>
    public string? Missing { get; init; }

    /// <summary>Estimate on the log scale; null on a linear scale.</summary>
    public double? LogRatio { get; init; }

    /// <summary>Standard error on the analysis scale.</summary>
    public double? StandardError { get; init; }

    /// <summary>Degrees of freedom.</summary>
    public double? DegreesOfFreedom { get; init; }

    /// <summary>Ratio with the wide interval.</summary>
    public RatioInterval? Ratio { get; init; }

    /// <summary>Ratio with the narrow interval, which is held against the margin.</summary>
    public RatioInterval? RatioForMargin { get; init; }

    /// <summary>Difference with the wide interval: of arithmetic means as tested, of the analysed readings on a linear scale.</summary>
    public DifferenceInterval? Difference { get; init; }

    /// <summary>Difference with the narrow interval, where the margin is absolute.</summary>
    public DifferenceInterval? DifferenceForMargin { get; init; }

    /// <summary>Two-sided p value of no difference.</summary>
    public double? PDifference { get; init; }

    /// <summary>The larger of the two one-sided p values against the margin.</summary>
    public double? PEquivalence { get; init; }

    /// <summary>The outcome.</summary>
    public Outcome? Outcome { get; init; }

    /// <summary>The answer to the rule's question.</summary>
    public Answer? Answer { get; init; }

    /// <summary>Independent parts of the variance, by name.</summary>
    public IReadOnlyDictionary<string, double>? VarianceParts { get; init; }

    /// <summary>Their degrees of freedom.</summary>
    public IReadOnlyDictionary<string, double>? PartDegreesOfFreedom { get; init; }

    /// <summary>The two contrasts of a margin in hardness.</summary>
    public MarginContrasts? MarginContrasts { get; init; }

    /// <summary>Method, assumptions and limits, in words.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>True when the estimand was judged.</summary>
    [JsonIgnore]
    public bool Stands => Refused is null && Outcome is not null;

    /// <summary>The result of an estimand by its code.</summary>
    internal static EstimandResult? Of(string estimand, AsTested? a, EqualHardness? b, SourcesInGeneral? c) => estimand switch { "equal-hardness" => b, "sources" => c, _ => a };
}

/// <summary>Distance to each limit of a margin in hardness; both above 0 is agreement.</summary>
public sealed record MarginContrasts(MarginContrast Lower, MarginContrast Upper);

/// <summary>One contrast with its own standard error.</summary>
public sealed record MarginContrast(double Estimate, double StandardError, double DegreesOfFreedom);

/// <summary>Question A: these lots, as tested.</summary>
public sealed record AsTested : EstimandResult
{
    /// <summary>Nothing filled in.</summary>
    public AsTested() { }

    internal AsTested(JudgedContrast judged) : base(judged) { }

    /// <summary>Weight of every furnace load; <c>-</c> where loads are not recorded.</summary>
    public IReadOnlyDictionary<string, double>? LoadWeights { get; init; }

    /// <summary><c>own variances</c>, <c>common residual</c> or <c>heats weigh equally</c>.</summary>
    public string? Method { get; init; }

    /// <summary>Ratio of the scatters.</summary>
    public ScatterComparison? Scatter { get; init; }

    /// <summary>The lowest coupon of each lot against the scatter law.</summary>
    public IReadOnlyList<LowestCoupon> LowestOfSeveral { get; init; } = [];
}

/// <summary>Ratio of standard deviations on the analysis scale, allowing for the scatter law, with a 95 % interval.</summary>
/// <param name="RatioOfSd">Candidate over reference.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="PBrownForsythe">p value of equal scatter by distances from the medians; null with several loads.</param>
public sealed record ScatterComparison(double RatioOfSd, double Lower, double Upper, double? PBrownForsythe);

/// <summary>The lowest coupon of a lot against what the scatter law expects.</summary>
/// <param name="Lot">Lot.</param>
/// <param name="Value">Lowest reading.</param>
/// <param name="Chance">Chance of a lowest reading as low, for this number of coupons, under the law and the lot's mean.</param>
public sealed record LowestCoupon(string Lot, double Value, double Chance);

/// <summary>Question B: what remains at equal hardness.</summary>
public sealed record EqualHardness : EstimandResult
{
    /// <summary>Nothing filled in.</summary>
    public EqualHardness() { }

    internal EqualHardness(JudgedContrast judged) : base(judged) { }

    /// <summary>Heats of the history in the trend.</summary>
    public int? Heats { get; init; }

    /// <summary>Sources with a level of their own.</summary>
    public int? Sources { get; init; }

    /// <summary>Lowest and highest heat mean of hardness, HRC.</summary>
    public IReadOnlyList<double>? HardnessRange { get; init; }

    /// <summary>Reliability of the heat means of hardness, λ.</summary>
    public double? Attenuation { get; init; }

    /// <summary>How far a lot lies outside the range, HRC, where that is the reason of a refusal.</summary>
    public double? OutsideBy { get; init; }

    /// <summary>Slope before the correction for error in hardness.</summary>
    public double? SlopeUncorrected { get; init; }

    /// <summary>Its standard error.</summary>
    public double? SlopeUncorrectedSe { get; init; }

    /// <summary>Which slope was used: between heats of a source, between treatments of a heat (a ladder of the history), or within the lots' own ladder.</summary>
    public string? SlopeKind { get; init; }

    /// <summary>True when the slope says what tuning the treatment changes, and not what heats of other hardness show.</summary>
    [JsonIgnore]
    public bool SlopeIsOfLadder => Ladder is not null || SlopeKind == EqualHardnessStep.BetweenTreatments;

    /// <summary><c>straight</c> or <c>bent</c>: the shape of the trend between heats that the slope was taken from, bent as the tangent at the lots' hardness; null for a ladder.</summary>
    public string? TrendShape { get; init; }

    /// <summary>Change of ln(property) per HRC; null on a linear scale.</summary>
    public Slope? LogPerHrc { get; init; }

    /// <summary>What one HRC is worth in the property, at the reference lot's hardness.</summary>
    public PerHrc? PerHrc { get; init; }

    /// <summary>The same in the trade's second unit, where it has one.</summary>
    public PerHrc? PerHrcOtherUnit { get; init; }

    /// <summary>Heat-to-heat standard deviation about the trend, analysis scale.</summary>
    public double? HeatToHeatSd { get; init; }

    /// <summary>Standard deviation within heats, analysis scale.</summary>
    public double? ResidualSd { get; init; }

    /// <summary>Standard deviation of coupon hardness within a heat, HRC.</summary>
    public double? HardnessSdWithinHeat { get; init; }

    /// <summary>Candidate less reference, HRC, weighted as the comparison is.</summary>
    public double? HardnessDifference { get; init; }

    /// <summary>Each lot's offset from the trend.</summary>
    public LotOffsets? LotOffsets { get; init; }

    /// <summary>A margin in hardness turned into a ratio, with the slope's interval.</summary>
    public RatioInterval? MarginAsRatio { get; init; }

    /// <summary>The trend, for drawing.</summary>
    public TrendLine? Trend { get; init; }

    /// <summary>The slope between treatments of the same heats, where there are such heats.</summary>
    public TreatmentSlope? BetweenTreatments { get; init; }

    /// <summary>The lots' own temper ladder, where it was judged by that instead of the history's trend.</summary>
    public LadderOfLots? Ladder { get; init; }
}

/// <summary>A slope per HRC with a 95 % interval.</summary>
public sealed record Slope(double Estimate, double StandardError, double DegreesOfFreedom, double Lower, double Upper, string SlopeKind);

/// <summary>What one HRC is worth in a unit, with a 95 % interval.</summary>
public sealed record PerHrc(double Estimate, double Lower, double Upper, string Unit, double AtHrc);

/// <summary>Offsets of both lots.</summary>
public sealed record LotOffsets(LotOffset Reference, LotOffset Candidate);

/// <summary>A lot's offset from the trend, analysis scale, with its 95 % prediction interval about 0.</summary>
public sealed record LotOffset(double Offset, double StandardErrorOfPrediction, IReadOnlyList<double> Prediction95);

/// <summary>The slope between treatments of the same heats against the slope between heats.</summary>
/// <param name="Estimate">Slope per HRC, analysis scale.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="Heats">Heats tested at several treatments.</param>
/// <param name="PEqual">Two-sided p value of equal slopes.</param>
/// <param name="Used">True when the rule names it and it was used.</param>
public sealed record TreatmentSlope(double Estimate, double StandardError, int Heats, double PEqual, bool Used);

/// <summary>Question C: the two sources in general.</summary>
public sealed record SourcesInGeneral : EstimandResult
{
    /// <summary>Nothing filled in.</summary>
    public SourcesInGeneral() { }

    internal SourcesInGeneral(JudgedContrast judged) : base(judged) { }

    /// <summary><c>equal-hardness</c> or <c>as-tested</c>.</summary>
    public string? Basis { get; init; }

    /// <summary>Candidate's source.</summary>
    public string? CandidateSource { get; init; }

    /// <summary>Reference's source.</summary>
    public string? ReferenceSource { get; init; }

    /// <summary>Degrees of freedom among heats, where they are too few.</summary>
    public int? HeatDf { get; init; }

    /// <summary>Heats of the candidate's source.</summary>
    public int? HeatsOfCandidateSource { get; init; }

    /// <summary>Heats of the reference's source.</summary>
    public int? HeatsOfReferenceSource { get; init; }

    /// <summary>Heats in all.</summary>
    public int? HeatsInAll { get; init; }

    /// <summary>Heat-to-heat standard deviation, analysis scale.</summary>
    public double? HeatToHeatSd { get; init; }

    /// <summary>Standard deviation within heats, analysis scale.</summary>
    public double? ResidualSd { get; init; }

    /// <summary>Variance of the estimated heat-to-heat variance.</summary>
    public double? VarianceOfHeatVariance { get; init; }

    /// <summary>Variance of the contrast from heats and coupons.</summary>
    public double? VarianceOfContrast { get; init; }

    /// <summary>Variance from the slope.</summary>
    public double? VarianceFromSlope { get; init; }

    /// <summary>Heats a source that would likely settle it.</summary>
    public NumberToSettle? HeatsToSettle { get; init; }

    /// <summary>Heats a source for assumed heat-to-heat standard deviations, where the scatter among heats is unknown.</summary>
    public IReadOnlyList<AssumedHeats>? HeatsToSettleIf { get; init; }

    /// <summary>Half-width, as a factor, that the narrow interval keeps with one heat each, however many coupons.</summary>
    public double? FactorWithOneHeatEach { get; init; }

    /// <summary>What a single heat of a source means for the interval.</summary>
    public string? Note { get; init; }
}

/// <summary>Heats a source needed for one assumed heat-to-heat standard deviation.</summary>
public sealed record AssumedHeats(double HeatToHeatSd, NumberToSettle Heats);
