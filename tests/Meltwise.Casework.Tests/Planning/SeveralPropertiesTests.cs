using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Planning;

/// <summary>Plans with several primary properties against what probability says of them. Numbers invented.</summary>
public sealed class SeveralPropertiesTests
{
    private static FurtherPrimary Strength(double correlation = 0, double truth = 1) => new()
    {
        Own = new() { Property = "bend strength", MarginLow = 0.87, MarginHigh = 1.15, WithinHeatSd = 0.08, Coupons = [1] },
        Truth = truth,
        Correlations = [correlation],
    };

    private static PlanRequest Request(params FurtherPrimary[] further) => new()
    {
        MarginLow = 0.8,
        MarginHigh = 1.25,
        WithinHeatSd = 0.15,
        Coupons = [9, 12],
        Truths = [1],
        Replicates = 40_000,
        Seed = 11,
        Further = further,
    };

    private static PlanTable Odds(PlanRequest request) => OutcomeOdds.Of(request, cancel: TestContext.Current.CancellationToken);

    // Independent properties: the product of the single chances [Owen1965]; Welch costs each less than 0.02 from nine coupons up.
    [Fact]
    public void Independent_properties_agree_with_the_product_of_the_single_chances()
    {
        foreach (PlanRow row in Odds(Request(Strength())).Table)
        {
            Assert.Equal(row.Properties!.Aggregate(1.0, (p, o) => p * o.YesByTheory!.Value), row.YesByTheory!.Value, 12);
            Assert.Equal(row.YesByTheory.Value, row.Answers["yes"], 0.03);
            Assert.Equal(row.Properties![0].Answers["yes"] * row.Properties[1].Answers["yes"], row.Answers["yes"], 0.008);
        }
    }

    // At no difference anywhere, Holm over independent properties claims one with 1 − (1 − α/m)^m.
    [Fact]
    public void A_difference_in_at_least_one_is_claimed_at_the_nominal_rate()
    {
        PlanRow row = Odds(Request(Strength()) with { Question = Question.Difference, Coupons = [12], Seed = 5 }).Table[0];
        Assert.Equal(1 - 0.975 * 0.975, row.YesByTheory!.Value, 12);
        Assert.Equal(row.YesByTheory.Value, row.DifferentInAtLeastOne!.Value, 0.005);
        Assert.Equal(row.DifferentInAtLeastOne.Value, row.Answers["yes"], 12);
    }

    // A real difference in both: once one is shown, Holm asks less of the other, so each is claimed more often than Bonferroni alone would.
    [Fact]
    public void Holm_claims_no_less_than_Bonferroni()
    {
        PlanRow row = Odds(Request(Strength(truth: 1.1)) with { Question = Question.Difference, Coupons = [12], Truths = [1.2] }).Table[0];
        double[] bonferroni = [.. row.Properties!.Select(p => Odds(Request() with
        {
            Question = Question.Difference,
            Alpha = 0.025,
            Coupons = [12],
            Truths = [p.TrueRatio],
            WithinHeatSd = p.Property == "bend strength" ? 0.08 : 0.15,
        }).Table[0].Answers["yes"])];
        Assert.All(row.Properties!.Zip(bonferroni), p => Assert.True(p.First.DifferenceClaimed > p.Second + 0.01, $"{p.First.Property}: Holm {p.First.DifferenceClaimed}, Bonferroni {p.Second}"));
    }

    // Properties that go together agree together: the joint chance lies between the product and the smaller single one, and rises with the correlation.
    [Fact]
    public void Correlation_brings_the_joint_chance_nearer_to_the_smaller_single_one()
    {
        double[] joint = [.. new[] { 0, 0.5, 0.95 }.Select(r => Odds(Request(Strength(r)) with { Coupons = [8], WithinHeatSd = 0.14 }).Table[0].Answers["yes"])];
        PlanRow alone = Odds(Request(Strength(0.95)) with { Coupons = [8], WithinHeatSd = 0.14 }).Table[0];
        Assert.True(joint[0] + 0.01 < joint[1] && joint[1] + 0.01 < joint[2], string.Join(", ", joint));
        Assert.True(joint[2] <= alone.Properties!.Min(p => p.Answers["yes"]));
        Assert.Null(alone.YesByTheory);
    }

    [Fact]
    public void The_first_property_by_itself_is_as_if_it_were_alone()
    {
        PlanRow alone = Odds(Request() with { Replicates = 4000 }).Table[0], among = Odds(Request(Strength(0.4)) with { Replicates = 4000 }).Table[0];
        Assert.Equal(alone.Answers["yes"], among.Properties![0].Answers["yes"], 0.03);
        Assert.Null(alone.Properties);
        Assert.True(among.Answers["yes"] < alone.Answers["yes"]);
    }

    [Fact]
    public async Task One_seed_gives_one_table_at_any_thread_count()
    {
        PlanRequest request = Request(Strength(0.5)) with { Replicates = 3000, Heats = [1, 2], HeatSd = 0.05, Extension = new() };
        PlanTable here = Odds(request);
        PlanTable alone = await Task.Factory.StartNew(() => Odds(request), CancellationToken.None, TaskCreationOptions.None, new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, 1).ExclusiveScheduler);
        Assert.Equal(here.Table.Select(r => (r.Agreement, r.DifferentInAtLeastOne, r.ChanceOfExtension)), alone.Table.Select(r => (r.Agreement, r.DifferentInAtLeastOne, r.ChanceOfExtension)));
    }

    // The dearest readings count: 2 × 9 coupons at 3 + 5 each.
    [Fact]
    public void Readings_of_a_further_property_cost() =>
        Assert.Equal(2 * 9 * 8.0, Odds(Request(Strength() with { CostPerReading = 5 }) with { Coupons = [9], CostPerCoupon = 3, Replicates = 500 }).Table[0].Cost, 9);

    [Fact]
    public void The_cheapest_plan_is_that_of_all_properties_together()
    {
        PlanTable table = Odds(Request(Strength()) with { Coupons = [6, 9, 12, 15], WithinHeatSd = 0.12, Replicates = 5000 });
        CheapestPlan cheapest = Assert.Single(table.Cheapest);
        Assert.True(cheapest.Chance >= 0.8);
        Assert.Contains(table.Table, r => r.Coupons < cheapest.Coupons && r.Properties![0].Answers["yes"] >= 0.8);
    }

    [Fact]
    public void A_property_that_cannot_be_answered_is_named()
    {
        FurtherPrimary wild = Strength() with { Own = Strength().Own with { WithinHeatSd = 0.5 } };
        Assert.StartsWith("The test cannot answer the question in bend strength", Odds(Request(wild) with { Replicates = 500 }).CannotAnswer, StringComparison.Ordinal);
    }

    [Fact]
    public void What_makes_no_plan_is_said_with_the_property()
    {
        string Said(FurtherPrimary further) => Assert.Throws<PlanFaultException>(() => Odds(Request(further))).Message;
        Assert.Contains("Bend strength: The margin", Said(Strength() with { Own = Strength().Own with { MarginLow = 1.1 } }), StringComparison.Ordinal);
        Assert.Contains("named twice", Said(Strength() with { Own = Strength().Own with { Property = "impact energy" } }), StringComparison.Ordinal);
        Assert.Contains("must lie between -1 and 1", Said(Strength(1)), StringComparison.Ordinal);
        FurtherPrimary wear = Strength() with { Own = Strength().Own with { Property = "wear loss", HigherIsBetter = false }, Correlations = [-0.9, 0.9] };
        Assert.Contains("contradict each other", Assert.Throws<PlanFaultException>(() => Odds(Request(Strength(0.9), wear))).Message, StringComparison.Ordinal);
    }
}
