using System.Globalization;

namespace Meltwise.Casework.Planning;

/// <summary>Odds of every outcome for every plan asked about.</summary>
/// <param name="Table">One row a plan and truth.</param>
/// <param name="Replicates">Simulated enquiries behind each row.</param>
/// <param name="Seed">Seed.</param>
/// <param name="Alpha">Error rate of each claim.</param>
/// <param name="Cheapest">The cheapest plan that reaches the wanted chance of agreement when the lots are truly alike; null when none does.</param>
/// <param name="CannotAnswer">Why none of the plans can answer the question, in words; null when one can.</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record PlanTable(IReadOnlyList<PlanRow> Table, int Replicates, long Seed, double Alpha, CheapestPlan? Cheapest, string? CannotAnswer, IReadOnlyList<string> Notes);

/// <summary>One plan against one truth.</summary>
/// <param name="Coupons">Coupons per lot with one heat, per heat with more.</param>
/// <param name="Heats">Heats per source.</param>
/// <param name="TrueRatio">True ratio; on a linear scale the true difference.</param>
/// <param name="Odds">Chance of every outcome that can occur, by its name; they add to 1.</param>
/// <param name="StandardError">Monte-Carlo standard error of each.</param>
/// <param name="Agreement">Chance of agreement within the margin: the first two outcomes together.</param>
/// <param name="AgreementByTheory">The same from normal theory with equal variances; null where no closed answer exists.</param>
/// <param name="SmallestDetectable">Smallest ratio above 1 (difference above 0) that is shown to differ with a chance of 0.8.</param>
/// <param name="Cost">Cost of both sides together.</param>
public sealed record PlanRow(int Coupons, int Heats, double TrueRatio, IReadOnlyDictionary<string, double> Odds, IReadOnlyDictionary<string, double> StandardError,
    double Agreement, double? AgreementByTheory, double SmallestDetectable, double Cost);

/// <summary>The cheapest plan that reaches the wanted chance.</summary>
/// <param name="Coupons">Coupons per lot or heat.</param>
/// <param name="Heats">Heats per source.</param>
/// <param name="Chance">Its chance of agreement at truth 1.</param>
/// <param name="Cost">Its cost.</param>
public sealed record CheapestPlan(int Coupons, int Heats, double Chance, double Cost)
{
    /// <summary>The plan as a sentence.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Heats} {(Heats == 1 ? "heat" : "heats")} a side with {Coupons} coupons each: agreement with a chance of {Chance:F2} if there is truly no difference, cost {Cost:G6}");
}
