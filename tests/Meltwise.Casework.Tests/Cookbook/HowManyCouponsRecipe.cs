using System.Diagnostics.CodeAnalysis;
using Meltwise.Casework.Planning;
using Meltwise.Metallurgy.Tests.Cookbook;
using Xunit;

namespace Meltwise.Casework.Tests.Cookbook;

public sealed class HowManyCouponsRecipe
{
    [Fact]
    [SuppressMessage("Usage", "xUnit1051", Justification = "The recipe prints the call as a reader writes it.")]
    public void How_many_coupons_and_heats()
    {
        List<string> csv = ["coupons a heat,one-heat [chance],two-heats [chance],three-heats [chance],five-heats [chance]"];
        // recipe
        PlanTable plan = OutcomeOdds.Of(new()
        {
            MarginLow = 0.80,
            MarginHigh = 1.25,
            WithinHeatSd = 0.12, // of ln(energy) among coupons of one heat
            HeatSd = 0.06,       // among heats of one source
            Coupons = [.. Enumerable.Range(3, 13)],
            Heats = [1, 2, 3, 5],
            Replicates = 10_000,
        });
        foreach (IGrouping<int, PlanRow> coupons in plan.Table.GroupBy(row => row.Coupons))
            csv.Add(FormattableString.Invariant($"{coupons.Key},{string.Join(',', coupons.Select(row => FormattableString.Invariant($"{row.Answers["yes"]:0.00}")))}"));
        // end of recipe
        RecipePage.Verify("how-many-coupons-and-heats", "How many coupons, how many heats",
            "The chance of showing agreement within 0.80 to 1.25 when there is truly no difference, simulated with the rule that will judge. One heat a side answers for these two lots as tested; two and more answer "
            + "for the two sources, which is a harder question: two heats a side have two degrees of freedom, and no number of coupons makes up for them. The scatters are assumptions of the handbook's size; put in what your own bench says.",
            csv);
    }
}
