using System.Globalization;

namespace Meltwise.Casework.Planning;

/// <summary>Odds of every outcome for every plan asked about.</summary>
public sealed record PlanTable
{
    /// <summary>One row a plan and truth.</summary>
    public required IReadOnlyList<PlanRow> Table { get; init; }

    /// <summary>Simulated enquiries behind each row.</summary>
    public required int Replicates { get; init; }

    /// <summary>Seed.</summary>
    public required long Seed { get; init; }

    /// <summary>Error rate of each claim, both looks together.</summary>
    public required double Alpha { get; init; }

    /// <summary>The question.</summary>
    public required string Question { get; init; }

    /// <summary>Truth at which the chance is wanted.</summary>
    public required double WantedAt { get; init; }

    /// <summary>For each estimand the cheapest plan that reaches the wanted chance of the answer yes; an estimand that no plan reaches is missing.</summary>
    public required IReadOnlyList<CheapestPlan> Cheapest { get; init; }

    /// <summary>Why none of the plans can answer the question, in words; null when one can.</summary>
    public string? CannotAnswer { get; init; }

    /// <summary>Plans asked about that are refused, with the reason.</summary>
    public IReadOnlyList<RefusedPlan> Refused { get; init; } = [];

    /// <summary>Chances of flaw-governed coupons, one entry a number of coupons a lot; empty where no flaws are reckoned with.</summary>
    public IReadOnlyList<LowCouponChance> LowCoupons { get; init; } = [];

    /// <summary>What a reader must know.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}

/// <summary>One plan against one truth.</summary>
public sealed record PlanRow
{
    /// <summary>Coupons per lot with one heat, per heat with more.</summary>
    public required int Coupons { get; init; }

    /// <summary>Heats per source.</summary>
    public required int Heats { get; init; }

    /// <summary>Furnace loads.</summary>
    public required int Loads { get; init; }

    /// <summary>Estimand that the plan answers for: <c>as-tested</c>, <c>equal-hardness</c> or <c>sources</c>.</summary>
    public required string Estimand { get; init; }

    /// <summary>True ratio; on a linear scale the true difference.</summary>
    public required double TrueRatio { get; init; }

    /// <summary>Chance of every outcome that can occur, by its name; they add to 1.</summary>
    public required IReadOnlyDictionary<string, double> Odds { get; init; }

    /// <summary>Monte-Carlo standard error of each.</summary>
    public required IReadOnlyDictionary<string, double> StandardError { get; init; }

    /// <summary>Chance of each reason of no verdict, by its code; null where every enquiry has one.</summary>
    public IReadOnlyDictionary<string, double>? Refusals { get; init; }

    /// <summary>Each primary property by itself, where the rule has several; the numbers of the row are then of all of them together. Null with one.</summary>
    public IReadOnlyList<PropertyOdds>? Properties { get; init; }

    /// <summary>Chance of a difference in at least one property after Holm's correction; null with one property.</summary>
    public double? DifferentInAtLeastOne { get; init; }

    /// <summary>Chance of each answer to the question: yes, no, open; what is missing to 1 is no verdict.</summary>
    public required IReadOnlyDictionary<string, double> Answers { get; init; }

    /// <summary>Monte-Carlo standard error of the chance of yes.</summary>
    public required double YesStandardError { get; init; }

    /// <summary>Chance of yes from normal theory with equal variances; null where no closed answer exists.</summary>
    public double? YesByTheory { get; init; }

    /// <summary>Chance of yes if no coupon were governed by a flaw; null where no flaws are reckoned with.</summary>
    public double? YesWithoutFlaws { get; init; }

    /// <summary>Chance of agreement within the margin: the first two outcomes together.</summary>
    public required double Agreement { get; init; }

    /// <summary>Smallest ratio above 1 (difference above 0) that is shown to differ with a chance of 0.8.</summary>
    public required double SmallestDetectable { get; init; }

    /// <summary>Chance that the planned extension is needed; null without one.</summary>
    public double? ChanceOfExtension { get; init; }

    /// <summary>Cost of both sides together; with an extension what is to be expected.</summary>
    public required double Cost { get; init; }
}

/// <summary>One of several primary properties of a plan by itself, on the same simulated coupons.</summary>
public sealed record PropertyOdds
{
    /// <summary>The property.</summary>
    public required string Property { get; init; }

    /// <summary>Estimand that it is judged by: hardness itself always as tested.</summary>
    public required string Estimand { get; init; }

    /// <summary>Its true ratio; on a linear scale its true difference.</summary>
    public required double TrueRatio { get; init; }

    /// <summary>Chance of every outcome that can occur.</summary>
    public required IReadOnlyDictionary<string, double> Odds { get; init; }

    /// <summary>Chance of each answer to its question.</summary>
    public required IReadOnlyDictionary<string, double> Answers { get; init; }

    /// <summary>Chance of yes from normal theory with equal variances; null where no closed answer exists.</summary>
    public double? YesByTheory { get; init; }

    /// <summary>Chance that a difference in it may be claimed, after Holm's correction over all primary properties.</summary>
    public required double DifferenceClaimed { get; init; }

    /// <summary>Smallest ratio above 1 (difference above 0) that is shown to differ with a chance of 0.8, without the correction.</summary>
    public required double SmallestDetectable { get; init; }
}

/// <summary>The cheapest plan for an estimand that reaches the wanted chance.</summary>
/// <param name="Estimand">What it answers for.</param>
/// <param name="Coupons">Coupons per lot or heat.</param>
/// <param name="Heats">Heats per source.</param>
/// <param name="Loads">Furnace loads.</param>
/// <param name="TrueRatio">Truth at which the chance holds.</param>
/// <param name="Chance">Its chance of the answer yes.</param>
/// <param name="StandardError">Monte-Carlo standard error of that.</param>
/// <param name="Cost">Its cost.</param>
/// <param name="Levels">Levels of a temper ladder, with so many coupons each; null without one.</param>
public sealed record CheapestPlan(string Estimand, int Coupons, int Heats, int Loads, double TrueRatio, double Chance, double StandardError, double Cost, int? Levels = null)
{
    /// <summary>The plan as a sentence.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{PlanWords.AnswersFor(Estimand)}: {Heats} {(Heats == 1 ? "heat" : "heats")} a side with {Coupons} {(Coupons == 1 ? "coupon" : "coupons")} {(Levels is { } l ? $"at each of {l} levels" : "each")} in {Loads} {(Loads == 1 ? "load" : "loads")}: yes with a chance of {Chance:F2} if the truth is {TrueRatio:0.###}, cost {Cost:0.#}");
}

/// <summary>A plan that is refused.</summary>
/// <param name="Coupons">Coupons per lot or heat.</param>
/// <param name="Heats">Heats per source.</param>
/// <param name="Loads">Furnace loads.</param>
/// <param name="Reason">Code of the reason.</param>
/// <param name="Why">Why, and what to change.</param>
public sealed record RefusedPlan(int Coupons, int Heats, int Loads, string Reason, string Why);

/// <summary>Chance of at least one flaw-governed coupon.</summary>
/// <param name="Coupons">Coupons of each lot, all heats together.</param>
/// <param name="InReference">In the reference lot.</param>
/// <param name="InCandidate">In the candidate lot.</param>
/// <param name="InEither">In either.</param>
public sealed record LowCouponChance(int Coupons, double InReference, double InCandidate, double InEither);
