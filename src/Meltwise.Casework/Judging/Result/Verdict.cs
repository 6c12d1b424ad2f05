using System.Text.Json.Serialization;

namespace Meltwise.Casework.Judging;

/// <summary>The answer that the decision rule gives, with every number, note and claim. Terminal, JSON, page and report read only this object.</summary>
/// <remarks>Serialised by <see cref="VerdictJson"/>; the names are those of the command contract. Ratios are candidate over reference. What does not apply is null and not written.</remarks>
public sealed record Verdict
{
    /// <summary>Name and version of this form.</summary>
    public string Schema { get; init; } = "meltwise-verdict-1";

    /// <summary>The rule as it was applied.</summary>
    public required AppliedRule Rule { get; init; }

    /// <summary>What kind of coupon was compared.</summary>
    public required Stratum Stratum { get; init; }

    /// <summary>What of the history was used and what was left out; null without a history.</summary>
    public HistoryUse? History { get; init; }

    /// <summary>The lots, reference first.</summary>
    public IReadOnlyList<Lot> Lots { get; init; } = [];

    /// <summary>How the scatter grows with the mean.</summary>
    public ScatterLaw? ScatterLaw { get; init; }

    /// <summary>Lent scatter, where the rule asks for it.</summary>
    public LentScatter? Lent { get; init; }

    /// <summary>Lots with censored readings, where there are any.</summary>
    public CensoredLots? Censored { get; init; }

    /// <summary>Coupons that stand apart. Nothing is dropped by a test.</summary>
    public IReadOnlyList<Suspect> Suspects { get; init; } = [];

    /// <summary>Coupons with a reading or a row that did not enter, and why.</summary>
    public IReadOnlyList<LeftOutCoupon> LeftOut { get; init; } = [];

    /// <summary>The outcome with every excluded coupon back in; null when nobody excluded any.</summary>
    public WithExcluded? WithExcluded { get; init; }

    /// <summary>Question A: these lots, as tested.</summary>
    public AsTested? AsTested { get; init; }

    /// <summary>Question B: what remains at equal hardness.</summary>
    public EqualHardness? EqualHardness { get; init; }

    /// <summary>Question C: the two sources in general.</summary>
    public SourcesInGeneral? Sources { get; init; }

    /// <summary>The other properties of the rule, primaries first; null when it has one property only.</summary>
    public IReadOnlyList<OtherPropertyResult>? OtherProperties { get; init; }

    /// <summary>All primary properties together; null when the rule has one only.</summary>
    public JointResult? Joint { get; init; }

    /// <summary>Question D: all pairs ever tested on this bench.</summary>
    public AllPairs? Pairs { get; init; }

    /// <summary>Coupons without which the outcome would be another, with that outcome.</summary>
    public IReadOnlyDictionary<string, Outcome>? LeaveOneOut { get; init; }

    /// <summary>The outcome under other reasonable choices.</summary>
    public Variants? Variants { get; init; }

    /// <summary>Shown beside the verdict, not counted in it; null where it does not apply.</summary>
    public ShownOnly? ShownOnly { get; init; }

    /// <summary>The outcome of the rule's estimand, in code and in words.</summary>
    [JsonPropertyName("verdict")]
    public required Finding Finding { get; init; }

    /// <summary>What a reader must know: methods, assumptions, limits. Never empty.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>What it takes to get this verdict again.</summary>
    public required Reproduction Reproduction { get; init; }

    /// <summary>The result of the rule's estimand for its first property; null when a gate failed before it.</summary>
    [JsonIgnore]
    public EstimandResult? Main => EstimandResult.Of(Rule.Estimand, AsTested, EqualHardness, Sources);

    /// <summary>The outcome of the rule's first property alone; that of the verdict unless the rule has several primary properties.</summary>
    [JsonIgnore]
    public Outcome FirstOutcome => Joint is { Primaries: [var first, ..] } ? first.Outcome : Finding.Outcome;
}

/// <summary>The outcome of the rule's estimand, in code and in words.</summary>
public sealed record Finding
{
    /// <summary>The outcome.</summary>
    public required Outcome Outcome { get; init; }

    /// <summary>The answer to the rule's question; null for a no-verdict.</summary>
    public Answer? Answer { get; init; }

    /// <summary>Why there is no verdict.</summary>
    public Reason? Reason { get; init; }

    /// <summary>What is missing, in words; null when there is a verdict.</summary>
    public string? Missing { get; init; }

    /// <summary>A first line that must stand before everything when the rule was not kept; null when it was.</summary>
    public string? Warning { get; init; }

    /// <summary>The fixed sentence of the outcome, filled in, and its scope; without the warning.</summary>
    public string Sentence { get; init; } = "";

    /// <summary>All of it: the warning as the first line, where there is one, then the sentence.</summary>
    public required string Text { get; init; }

    /// <summary>What may be claimed.</summary>
    public IReadOnlyList<string> MayClaim { get; init; } = [];

    /// <summary>What may not be claimed.</summary>
    public IReadOnlyList<string> MayNotClaim { get; init; } = [];

    /// <summary>Coupons a lot, in all, that would likely settle an open case.</summary>
    public CouponsToSettle? CouponsToSettle { get; init; }

    /// <summary>How firm the outcome is, in words.</summary>
    public string? Firmness { get; init; }
}

/// <summary>Smallest number of coupons a lot, in all, with a chance of 0.8 to show agreement.</summary>
/// <param name="IfRatioIsOne">When there is truly no difference.</param>
/// <param name="IfRatioIsAsSeen">When the difference is truly the one seen; null when that is not inside the margin.</param>
public sealed record CouponsToSettle(
    [property: JsonIgnore(Condition = JsonIgnoreCondition.Never)] NumberToSettle? IfRatioIsOne,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.Never)] NumberToSettle? IfRatioIsAsSeen);

/// <summary>A number of coupons or heats, or that it is above the largest number tried.</summary>
/// <param name="Number">The number, or the largest one tried.</param>
/// <param name="IsMore">True when more than <paramref name="Number"/> are needed.</param>
[JsonConverter(typeof(NumberToSettleConverter))]
public readonly record struct NumberToSettle(int Number, bool IsMore = false)
{
    /// <summary>The number, or <c>more than 200</c>.</summary>
    public override string ToString() => IsMore ? $"more than {Number}" : $"{Number}";
}

/// <summary>What it takes to get a verdict again.</summary>
/// <param name="Version">Version of the program.</param>
/// <param name="DataDigest">SHA-256 of the data that entered, in canonical form: independent of the order of rows.</param>
/// <param name="HistoryDigest">The same of the history; null without one.</param>
/// <param name="Seed">Seed of what is random (the bootstrap that is shown beside the verdict); null when nothing was. The outcome never rests on it.</param>
/// <param name="RuleDigest">Digest of the locked rule; null when it was not locked.</param>
public sealed record Reproduction(string Version, string DataDigest, string? HistoryDigest, int? Seed, string? RuleDigest);
