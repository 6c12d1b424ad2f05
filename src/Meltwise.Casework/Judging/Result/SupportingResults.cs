using System.Text.Json.Serialization;

namespace Meltwise.Casework.Judging;

/// <summary>A lot: the coupons of one role.</summary>
public sealed record Lot
{
    /// <summary>Its heat, or its heats where the role has several.</summary>
    [JsonConverter(typeof(HeatNamesConverter))]
    public required IReadOnlyList<string> Heat { get; init; }

    /// <summary><c>reference</c> or <c>candidate</c>.</summary>
    public required string Role { get; init; }

    /// <summary>Source, where it is known and one.</summary>
    public string? Source { get; init; }

    /// <summary>Route, where it is known and one.</summary>
    public string? Route { get; init; }

    /// <summary>Other heats of its source that the bench had tested when the rule was locked, or when the verdict was made where the lock does not say; null without a history or a source. 0: a newcomer.</summary>
    public int? OtherHeatsOfSource { get; init; }

    /// <summary>Valid coupons.</summary>
    public required int N { get; init; }

    /// <summary>Coupons that enter the comparison (in loads that hold both lots).</summary>
    public required int NCompared { get; init; }

    /// <summary>Arithmetic mean.</summary>
    public required double Mean { get; init; }

    /// <summary>Standard deviation; null below two coupons.</summary>
    public double? Sd { get; init; }

    /// <summary>Geometric mean; null on a linear scale.</summary>
    public double? GeometricMean { get; init; }

    /// <summary>Standard deviation of the logarithms; null on a linear scale.</summary>
    public double? LogSd { get; init; }

    /// <summary>Mean hardness, HRC; null when none was read.</summary>
    public double? HardnessMean { get; init; }

    /// <summary>Lowest and highest reading.</summary>
    public required IReadOnlyList<double> Range { get; init; }

    /// <summary>Every coupon that entered, for figures.</summary>
    public required IReadOnlyList<CouponPoint> Coupons { get; init; }
}

/// <summary>A coupon in a figure.</summary>
/// <param name="Coupon">Name.</param>
/// <param name="Heat">Heat.</param>
/// <param name="Value">Value in the unit of comparison, mean of its readings.</param>
/// <param name="Hardness">Hardness, HRC; null when not read.</param>
/// <param name="Load">Furnace load.</param>
/// <param name="Order">Order of testing.</param>
/// <param name="Bound"><c>above</c> or <c>below</c> for a bound; null for a value.</param>
/// <param name="ChangeWithoutIt">Change of the comparison (ln(C/R), or the difference on a linear scale) without this coupon; null when that cannot be computed.</param>
/// <param name="Code">Blind code.</param>
public sealed record CouponPoint(string Coupon, string Heat, double Value, double? Hardness, string? Load, int? Order, string? Bound, double? ChangeWithoutIt = null, string? Code = null);

/// <summary>The law SD = s₀·mean^k.</summary>
public sealed record ScatterLaw
{
    /// <summary>k.</summary>
    public required double Exponent { get; init; }

    /// <summary>95 % interval of k; null when assumed.</summary>
    public PlainInterval? Interval { get; init; }

    /// <summary>Standard error of k.</summary>
    public double? StandardError { get; init; }

    /// <summary><c>history</c> or <c>assumed</c>.</summary>
    public required string Source { get; init; }

    /// <summary>Groups of two or more coupons.</summary>
    public int? Groups { get; init; }

    /// <summary>Degrees of freedom in them.</summary>
    public int? DegreesOfFreedom { get; init; }

    /// <summary>Scatter of the group variances about the law; 1 is what chance gives.</summary>
    public double? Dispersion { get; init; }

    /// <summary>Mean logarithm that the law is centred on.</summary>
    public double? MeanLog { get; init; }

    /// <summary>Logarithm of the variance there.</summary>
    public double? LogVarianceAtMean { get; init; }

    /// <summary>2(k − 1).</summary>
    public double? SlopeOfLogVariance { get; init; }

    /// <summary>Lower limit of the prior degrees of freedom.</summary>
    public double? PriorDf { get; init; }

    /// <summary>Degrees of freedom that may be lent.</summary>
    public double? LentDf { get; init; }

    /// <summary>Whether the history is large enough to lend.</summary>
    public bool? MayLend { get; init; }
}

/// <summary>Two limits.</summary>
public sealed record PlainInterval(double Lower, double Upper);

/// <summary>A number for each lot.</summary>
public sealed record PerLot(double Candidate, double Reference);

/// <summary>Lent scatter: the lots' variances moderated by the law.</summary>
/// <param name="LawVariance">What the law expects.</param>
/// <param name="VarianceRatio">Own variance over it.</param>
/// <param name="Critical">Limit above which none is lent.</param>
/// <param name="Used">Whether it was lent.</param>
/// <param name="Variance">Moderated variances; null when not lent.</param>
/// <param name="LentDf">Degrees of freedom lent; null when not lent.</param>
/// <param name="Why">Why none was lent; null when it was.</param>
public sealed record LentScatter(PerLot? LawVariance, PerLot? VarianceRatio, PerLot? Critical, bool Used, PerLot? Variance, double? LentDf, string? Why);

/// <summary>Both lots by maximum likelihood.</summary>
public sealed record CensoredLots(CensoredLot Candidate, CensoredLot Reference);

/// <summary>A lot with bounds among its readings.</summary>
/// <param name="Mean">Mean on the analysis scale.</param>
/// <param name="Sd">Standard deviation.</param>
/// <param name="V">Variance of the mean.</param>
/// <param name="Nu">Degrees of freedom.</param>
/// <param name="Uncensored">Coupons with a value.</param>
/// <param name="N">Coupons.</param>
public sealed record CensoredLot(double Mean, double Sd, [property: JsonPropertyName("V")] double V, double Nu, int Uncensored, int N);

/// <summary>A coupon that stands apart.</summary>
/// <param name="Coupon">Name.</param>
/// <param name="Lot">Heat.</param>
/// <param name="Value">Value in the unit of comparison.</param>
/// <param name="Test">Test that named it.</param>
/// <param name="Statistic">Its statistic.</param>
/// <param name="CriticalValue">The value it was held against.</param>
/// <param name="ChangeWithoutIt">Change of the comparison (ln(C/R), or the difference on a linear scale) without it; null when that cannot be computed.</param>
public sealed record Suspect(string Coupon, string Lot, double Value, string Test, double Statistic, double CriticalValue, double? ChangeWithoutIt);

/// <summary>A coupon that did not enter.</summary>
/// <param name="Coupon">Name.</param>
/// <param name="Lot">Heat.</param>
/// <param name="Value">Value, where one was read.</param>
/// <param name="State"><c>invalid</c>, <c>excluded</c>, <c>not done</c>, <c>no reading</c>.</param>
/// <param name="Cause">Cause given.</param>
/// <param name="Stamp">For an excluded coupon: <c>before the key was opened</c>, <c>after the key was opened</c> or <c>not stamped</c>.</param>
/// <param name="Enters">True for an exclusion that came too late: its coupon is in the verdict.</param>
public sealed record LeftOutCoupon(string Coupon, string Lot, double? Value, string State, string? Cause, string? Stamp, bool Enters);

/// <summary>The comparison with all excluded coupons back in.</summary>
/// <param name="Outcome">Its outcome.</param>
/// <param name="Ratio">Its ratio with the wide interval; null on a linear scale.</param>
/// <param name="Difference">Its difference on a linear scale.</param>
public sealed record WithExcluded(Outcome Outcome, RatioInterval? Ratio, DifferenceInterval? Difference);

/// <summary>The outcome under other reasonable choices; it is no probability.</summary>
/// <param name="Agree">Choices with the same outcome.</param>
/// <param name="Of">Choices that apply.</param>
/// <param name="Outcomes">Outcome of each.</param>
public sealed record Variants(int Agree, int Of, IReadOnlyDictionary<string, Outcome> Outcomes);

/// <summary>Shown beside the verdict and never counted in it. All but the posterior of the sources only as tested, with one heat in each role and one furnace load.</summary>
/// <param name="Bca">Bias-corrected and accelerated bootstrap interval of the ratio; by simulation a 95 % one covers 80 to 94 % with 3 to 15 coupons a lot.</param>
/// <param name="PosteriorInsideMargin">Posterior probability, under weak priors, that the ratio lies inside the margin; it repeats Welch and is no second witness.</param>
/// <param name="Replicates">Resamples of the bootstrap.</param>
/// <param name="Sources">Posterior of the two sources in general, where they are judged on a ratio scale.</param>
/// <param name="Studentized">Studentized bootstrap interval of the ratio, the better one: by simulation a 95 % one covers 94 to 98 % with 3 to 15 coupons a lot. Null where no resample of such small lots has a scatter to divide by.</param>
/// <param name="Note">The same in words, each interval with its true coverage for lots of this size.</param>
public sealed record ShownOnly(RatioInterval? Bca, double? PosteriorInsideMargin, int? Replicates, SourcesPosterior? Sources = null, RatioInterval? Studentized = null, string? Note = null);

/// <summary>Posterior of the ratio of two sources in general, heats random, under weak priors; the data are those of the verdict, so it is no second witness.</summary>
/// <param name="Ratio">Posterior median with the interval of equal tails.</param>
/// <param name="InsideMargin">Posterior probability that the ratio lies inside the margin.</param>
/// <param name="BelowMargin">That it lies below the margin.</param>
/// <param name="AboveMargin">That it lies above the margin.</param>
/// <param name="HeatToHeatSd">Posterior median of the heat-to-heat standard deviation of the logarithms, read to about 1 %.</param>
/// <param name="HeatToHeatSdInterval">Its 95 % interval of equal tails.</param>
/// <param name="PriorScale">Scale of its half-normal prior.</param>
public sealed record SourcesPosterior(RatioInterval Ratio, double InsideMargin, double BelowMargin, double AboveMargin, double HeatToHeatSd, PlainInterval HeatToHeatSdInterval, double PriorScale);

/// <summary>Question D: all pairs ever tested.</summary>
public sealed record AllPairs
{
    /// <summary>Pairs.</summary>
    public required int Count { get; init; }

    /// <summary>The pairs, this enquiry last.</summary>
    public required IReadOnlyList<PairEffect> Pairs { get; init; }

    /// <summary>True when all pairs have one orientation, so that a mean has a meaning.</summary>
    public required bool OneOrientation { get; init; }

    /// <summary>What the mean is of: <c>R over P</c> for the same two sources, <c>powder over ingot</c> for the same two routes, or <c>newcomer over incumbent</c>; null when the pairs share none of these.</summary>
    public string? Orientation { get; init; }

    /// <summary>Mean ratio with its 95 % interval; only for pairs of one orientation.</summary>
    public RatioInterval? Mean { get; init; }

    /// <summary>Where the next pair is expected, 95 %.</summary>
    public RatioInterval? Prediction { get; init; }

    /// <summary>Pair-to-pair standard deviation on the log scale (about 0 where orientations differ).</summary>
    public double? Tau { get; init; }

    /// <summary>Share of pairs whose ratio lies inside the margin.</summary>
    public double? ShareInsideMargin { get; init; }

    /// <summary>Limits, in words.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}

/// <summary>One pair.</summary>
public sealed record PairEffect(string Enquiry, double Ratio, double Lower, double Upper, bool AtEqualHardness);
