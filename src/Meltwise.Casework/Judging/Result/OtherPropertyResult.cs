namespace Meltwise.Casework.Judging;

/// <summary>A property judged beside the first one of the rule, by its own margin and the same decision table.</summary>
public sealed record OtherPropertyResult
{
    /// <summary>The property.</summary>
    public required string Property { get; init; }

    /// <summary><c>primary</c>: it must agree too; <c>secondary</c>: shown beside the verdict.</summary>
    public required string Role { get; init; }

    /// <summary>The rule as it was applied to it.</summary>
    public required AppliedRule Rule { get; init; }

    /// <summary>The lots in this property, reference first, without their coupons.</summary>
    public required IReadOnlyList<OtherLot> Lots { get; init; }

    /// <summary>As tested.</summary>
    public AsTested? AsTested { get; init; }

    /// <summary>At equal hardness, where the rule asks a primary property for it.</summary>
    public EqualHardness? EqualHardness { get; init; }

    /// <summary>The two sources in general, where the rule asks a primary property for them.</summary>
    public SourcesInGeneral? Sources { get; init; }

    /// <summary>The outcome.</summary>
    public required Outcome Outcome { get; init; }

    /// <summary>The answer to the question; null for a no-verdict.</summary>
    public Answer? Answer { get; init; }

    /// <summary>Why there is no outcome.</summary>
    public Reason? Reason { get; init; }

    /// <summary>What is missing then.</summary>
    public string? Missing { get; init; }

    /// <summary>Two-sided p value of no difference; null without an outcome.</summary>
    public double? PDifference { get; init; }

    /// <summary>The same after Holm's correction: among all primary properties, or among all secondary ones.</summary>
    public double? PDifferenceHolm { get; init; }

    /// <summary>Whether a difference in it may be claimed, after Holm's correction.</summary>
    public required bool DifferenceClaimed { get; init; }

    /// <summary>The outcome in a sentence.</summary>
    public required string Sentence { get; init; }

    /// <summary>What the rule asked of it: the result of its estimand.</summary>
    internal EstimandResult? Main => EstimandResult.Of(Rule.Estimand, AsTested, EqualHardness, Sources);
}

/// <summary>A lot in one property.</summary>
/// <param name="Role"><c>reference</c> or <c>candidate</c>.</param>
/// <param name="N">Valid coupons.</param>
/// <param name="Mean">Mean in the unit of comparison, geometric on a log scale; null without a coupon.</param>
/// <param name="Sd">Standard deviation of the readings; null below two coupons.</param>
public sealed record OtherLot(string Role, int N, double? Mean, double? Sd);

/// <summary>All primary properties together, where the rule has several.</summary>
/// <remarks>"All equivalent" takes each of them, uncorrected: an intersection-union test keeps the error rate of one (Berger 1982). "Different in at least one" takes Holm's correction.</remarks>
public sealed record JointResult
{
    /// <summary>The primary properties, the rule's first one first.</summary>
    public required IReadOnlyList<JointProperty> Primaries { get; init; }

    /// <summary>Yes when all are equivalent, no when one differs by more than its margin, open otherwise.</summary>
    public required Answer AllEquivalent { get; init; }

    /// <summary>p value of that: the largest of the properties'; null when one has no outcome.</summary>
    public double? PAllEquivalent { get; init; }

    /// <summary>Yes when a difference is shown in at least one after Holm's correction; no when none is shown.</summary>
    public required Answer DifferentInAtLeastOne { get; init; }

    /// <summary>The properties that it is shown in.</summary>
    public IReadOnlyList<string> DifferentIn { get; init; } = [];

    /// <summary>Words of the outcome: where it lies.</summary>
    public required string Qualifier { get; init; }
}

/// <summary>One primary property among several.</summary>
/// <param name="Property">The property.</param>
/// <param name="Outcome">Its outcome.</param>
/// <param name="Answer">Its answer; null without an outcome.</param>
/// <param name="PEquivalence">Larger one-sided p value against its margin.</param>
/// <param name="PDifference">Two-sided p value of no difference.</param>
/// <param name="PDifferenceHolm">The same after Holm's correction over all primary properties; one without an outcome counts in their number.</param>
public sealed record JointProperty(string Property, Outcome Outcome, Answer? Answer, double? PEquivalence, double? PDifference, double? PDifferenceHolm);
