using System.Text.Json.Serialization;

namespace Meltwise.Casework.Judging;

/// <summary>What the two intervals say against the margin. A closed set; the order is that of the decision table.</summary>
public enum Outcome
{
    /// <summary>Narrow interval inside the margin, wide interval covers no difference.</summary>
    [JsonStringEnumMemberName("equivalent")] Equivalent,

    /// <summary>Narrow interval inside the margin, wide interval excludes no difference: real but immaterial.</summary>
    [JsonStringEnumMemberName("equivalent-detectable")] EquivalentDetectable,

    /// <summary>Wide interval wholly beyond the margin on the good side.</summary>
    [JsonStringEnumMemberName("better")] Better,

    /// <summary>Wide interval wholly beyond the margin on the bad side.</summary>
    [JsonStringEnumMemberName("worse")] Worse,

    /// <summary>Wide interval wholly above the margin; the property has no good direction.</summary>
    [JsonStringEnumMemberName("higher")] Higher,

    /// <summary>Wide interval wholly below the margin; the property has no good direction.</summary>
    [JsonStringEnumMemberName("lower")] Lower,

    /// <summary>A difference is shown, but not whether it is large enough to matter.</summary>
    [JsonStringEnumMemberName("different-open")] DifferentOpen,

    /// <summary>Neither agreement nor difference is shown.</summary>
    [JsonStringEnumMemberName("inconclusive")] Inconclusive,

    /// <summary>The comparison is not valid, for a stated reason.</summary>
    [JsonStringEnumMemberName("no-verdict")] NoVerdict,
}

/// <summary>Answer to the question of the rule, beside the outcome.</summary>
public enum Answer
{
    /// <summary>Shown.</summary>
    [JsonStringEnumMemberName("yes")] Yes,

    /// <summary>The opposite is shown.</summary>
    [JsonStringEnumMemberName("no")] No,

    /// <summary>Neither is shown.</summary>
    [JsonStringEnumMemberName("open")] Open,
}

/// <summary>Why there is no verdict, or why an estimand is refused. A closed list.</summary>
public enum Reason
{
    /// <summary>The lots are not of one kind.</summary>
    [JsonStringEnumMemberName("strata-differ")] StrataDiffer,

    /// <summary>Fewer than three usable coupons in a lot.</summary>
    [JsonStringEnumMemberName("too-few")] TooFew,

    /// <summary>All readings of a lot are equal.</summary>
    [JsonStringEnumMemberName("zero-scatter")] ZeroScatter,

    /// <summary>No furnace load holds both lots.</summary>
    [JsonStringEnumMemberName("confounded-loads")] ConfoundedLoads,

    /// <summary>Too many coupons of a lot have only a bound.</summary>
    [JsonStringEnumMemberName("too-many-censored")] TooManyCensored,

    /// <summary>No matching history.</summary>
    [JsonStringEnumMemberName("no-history")] NoHistory,

    /// <summary>Hardness is missing.</summary>
    [JsonStringEnumMemberName("no-hardness")] NoHardness,

    /// <summary>Hardness was read on different scales or converted.</summary>
    [JsonStringEnumMemberName("mixed-hardness-scales")] MixedHardnessScales,

    /// <summary>Too few heats for a slope.</summary>
    [JsonStringEnumMemberName("too-few-heats")] TooFewHeats,

    /// <summary>The heats of the history do not differ enough in hardness against its error.</summary>
    [JsonStringEnumMemberName("hardness-spread-too-small")] HardnessSpreadTooSmall,

    /// <summary>A lot lies outside the hardness range of the history.</summary>
    [JsonStringEnumMemberName("outside-the-trend")] OutsideTheTrend,

    /// <summary>A margin in hardness cannot be turned into the property.</summary>
    [JsonStringEnumMemberName("margin-not-resolved")] MarginNotResolved,

    /// <summary>The scatter among heats is not known well enough.</summary>
    [JsonStringEnumMemberName("heat-to-heat-scatter-unknown")] HeatToHeatScatterUnknown,

    /// <summary>The sources of the lots are not named.</summary>
    [JsonStringEnumMemberName("sources-not-named")] SourcesNotNamed,

    /// <summary>Both roles are of one source, or a role is of several.</summary>
    [JsonStringEnumMemberName("one-source")] OneSource,

    /// <summary>The instrument had no valid verification.</summary>
    [JsonStringEnumMemberName("instrument-not-verified")] InstrumentNotVerified,
}

/// <summary>The names of the command contract for outcomes, answers, reasons and rules: one spelling for terminal, JSON, page and report.</summary>
public static class Codes
{
    /// <summary>The code of an outcome, e.g. <c>equivalent-detectable</c>.</summary>
    public static string Code(this Outcome outcome) => outcome switch
    {
        Outcome.Equivalent => "equivalent",
        Outcome.EquivalentDetectable => "equivalent-detectable",
        Outcome.Better => "better",
        Outcome.Worse => "worse",
        Outcome.Higher => "higher",
        Outcome.Lower => "lower",
        Outcome.DifferentOpen => "different-open",
        Outcome.Inconclusive => "inconclusive",
        _ => "no-verdict",
    };

    /// <summary>The code of an answer.</summary>
    public static string Code(this Answer answer) => answer switch { Answer.Yes => "yes", Answer.No => "no", _ => "open" };

    /// <summary>The code of a reason, e.g. <c>too-few-heats</c>.</summary>
    public static string Code(this Reason reason) => reason switch
    {
        Reason.StrataDiffer => "strata-differ",
        Reason.TooFew => "too-few",
        Reason.ZeroScatter => "zero-scatter",
        Reason.ConfoundedLoads => "confounded-loads",
        Reason.TooManyCensored => "too-many-censored",
        Reason.NoHistory => "no-history",
        Reason.NoHardness => "no-hardness",
        Reason.MixedHardnessScales => "mixed-hardness-scales",
        Reason.TooFewHeats => "too-few-heats",
        Reason.HardnessSpreadTooSmall => "hardness-spread-too-small",
        Reason.OutsideTheTrend => "outside-the-trend",
        Reason.MarginNotResolved => "margin-not-resolved",
        Reason.HeatToHeatScatterUnknown => "heat-to-heat-scatter-unknown",
        Reason.SourcesNotNamed => "sources-not-named",
        Reason.OneSource => "one-source",
        _ => "instrument-not-verified",
    };

    /// <summary>The code of an estimand.</summary>
    public static string Code(this Domain.Estimand estimand) => estimand switch
    {
        Domain.Estimand.EqualHardness => "equal-hardness",
        Domain.Estimand.Sources => "sources",
        _ => "as-tested",
    };

    /// <summary>The code of a question.</summary>
    public static string Code(this Domain.Question question) => question switch
    {
        Domain.Question.NotWorse => "not-worse",
        Domain.Question.Better => "better",
        Domain.Question.Difference => "difference",
        _ => "equivalent",
    };

    /// <summary>The code of a choice of scatter.</summary>
    public static string Code(this Domain.ScatterChoice scatter) => scatter == Domain.ScatterChoice.Lent ? "lent" : "own";
}
