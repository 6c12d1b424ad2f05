using System.Text.Json;
using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Planning;

public sealed class OutcomeOddsTests
{
    private static PlanRequest Request() => new()
    {
        MarginLow = 0.8,
        MarginHigh = 1.25,
        WithinHeatSd = 0.15,
        Coupons = [3, 4, 6, 9, 15],
        Truths = [1],
        Replicates = 40_000,
        Seed = 11,
    };

    private static PlanTable Odds(PlanRequest request) => OutcomeOdds.Of(request, cancel: TestContext.Current.CancellationToken);

    private static JsonElement Rates(string file)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "planning", file)));
        return document.RootElement.Clone();
    }

    // Oracles/planning/as_tested_rates.json: another program's simulation of the same rule. Within three combined Monte-Carlo errors.
    [Fact]
    public void Odds_agree_with_another_program()
    {
        foreach (JsonElement row in Rates("as_tested_rates.json").GetProperty("rows").EnumerateArray())
        {
            PlanRow ours = Odds(Request() with
            {
                WithinHeatSd = 0.12,
                CandidateWithinHeatSd = 0.24,
                Coupons = [row.GetProperty("nCandidate").GetInt32()],
                Truths = [row.GetProperty("trueRatio").GetDouble()],
            }).Table[0];
            Close(row.GetProperty("equivalent"), ours.Odds["equivalent"]);
            Close(row.GetProperty("equivalentDetectable"), ours.Odds["equivalent-detectable"]);
            Close(row.GetProperty("better"), ours.Odds["better"]);
            Close(row.GetProperty("differentOpen"), ours.Odds["different-open"]);
            Close(row.GetProperty("inconclusive"), ours.Odds["inconclusive"]);
        }
    }

    // Oracles/planning/several_heats_coverage.json: at ratio 1 the wide interval excludes 1 as often as it misses the truth.
    [Fact]
    public void Sources_agree_with_another_program()
    {
        foreach (JsonElement row in Rates("several_heats_coverage.json").GetProperty("rows").EnumerateArray())
        {
            PlanRow ours = Odds(Request() with
            {
                WithinHeatSd = 0.12,
                HeatSd = row.GetProperty("heatSd").GetDouble(),
                Heats = [row.GetProperty("heatsPerSource").GetInt32()],
                Coupons = [row.GetProperty("couponsPerHeat").GetInt32()],
                Replicates = 20_000,
            }).Table[0];
            Close(row.GetProperty("heatsRandom").GetProperty("cover95"), ours.Odds["equivalent"] + ours.Odds["inconclusive"], 20_000);
        }
    }

    private static void Close(JsonElement rate, double ours, int replicates = 40_000)
    {
        double theirs = rate[0].GetDouble(), error = rate[1].GetDouble(), own = Math.Sqrt(Math.Max(ours * (1 - ours), 1e-4) / replicates);
        Assert.Equal(theirs, ours, 3.5 * Math.Sqrt(error * error + own * own));
    }

    // Normal theory pools the variances, Welch does not: they differ by less than 0.02 from six coupons up.
    [Fact]
    public void Theory_stands_beside_the_simulation() =>
        Assert.All(Odds(Request()).Table.Where(r => r.Coupons >= 6), r => Assert.Equal(r.YesByTheory!.Value, r.Answers["yes"], 0.02));

    [Fact]
    public void Odds_add_to_one_and_carry_their_error()
    {
        PlanRow row = Odds(Request() with { Heats = [1, 3], Truths = [1, 0.9], HeatSd = 0.06 }).Table[^1];
        Assert.Equal(1, row.Odds.Values.Sum(), 12);
        Assert.Equal(Math.Sqrt(row.Odds["inconclusive"] * (1 - row.Odds["inconclusive"]) / 40_000), row.StandardError["inconclusive"], 12);
    }

    [Fact]
    public async Task One_seed_gives_one_table_at_any_thread_count()
    {
        PlanRequest request = Request() with { Replicates = 3000, Heats = [1, 2], HeatSd = 0.05, WithinHeatSdDf = 20 };
        PlanTable here = Odds(request);
        PlanTable alone = await Task.Factory.StartNew(() => Odds(request), CancellationToken.None, TaskCreationOptions.None, new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, 1).ExclusiveScheduler);
        Assert.Equal(here.Table.Select(r => r.Agreement), alone.Table.Select(r => r.Agreement));
    }

    [Fact]
    public void A_plan_that_cannot_answer_says_so() =>
        Assert.StartsWith("The test cannot answer the question", Odds(Request() with { WithinHeatSd = 0.4, Coupons = [3, 4], Replicates = 500 }).CannotAnswer, StringComparison.Ordinal);

    [Fact]
    public void The_cheapest_plan_reaches_the_wanted_chance()
    {
        PlanTable table = Odds(Request() with { Coupons = [6, 9, 12, 15], WithinHeatSd = 0.12, Replicates = 5000 });
        CheapestPlan cheapest = Assert.Single(table.Cheapest);
        Assert.True(cheapest.Chance >= 0.8);
        Assert.DoesNotContain(table.Table, r => r.Agreement >= 0.8 && r.Cost < cheapest.Cost);
    }

    [Fact]
    public void A_margin_that_does_not_enclose_one_is_refused() =>
        Assert.Contains("must enclose 1", Assert.Throws<PlanFaultException>(() => Odds(Request() with { MarginLow = 1.05 })).Message, StringComparison.Ordinal);

    // With many old heats the reference is its source; agreement can only gain by knowing more of the heat-to-heat scatter.
    [Fact]
    public void Old_heats_help_to_judge_sources()
    {
        PlanRequest bare = Request() with { Coupons = [4], Heats = [3], HeatSd = 0.05, Replicates = 4000 };
        double without = Odds(bare).Table[0].Agreement;
        double with = Odds(bare with { History = new(10, 6, [8, 8, 8], 5) }).Table[0].Agreement;
        Assert.True(with > without + 0.05, $"{with} with old heats, {without} without");
    }

    // Nominal level: at the upper limit itself a false agreement occurs at most in 5 % (4.1 to 5.5 % in the specification's simulation).
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void False_agreement_at_the_limit_stays_near_five_percent(bool equalHardness)
    {
        PlanRequest request = Request() with
        {
            Truths = [1.25],
            Coupons = [9],
            Replicates = 40_000,
            Trend = equalHardness ? new(-0.08, 0.02, 20, 0.8, 0.3, 100) : null,
        };
        Assert.InRange(Odds(request).Table[0].Agreement, 0.040, 0.058);
    }

    // Costs of plans for different estimands do not compare: each has a cheapest plan of its own.
    [Fact]
    public void Each_estimand_has_its_own_cheapest_plan()
    {
        PlanTable table = Odds(Request() with { Coupons = [6, 9, 12], Heats = [1, 3, 5], HeatSd = 0.04, WithinHeatSd = 0.10, Replicates = 3000, CostPerHeat = 40 });
        Assert.Equal(["as-tested", "sources"], table.Cheapest.Select(c => c.Estimand));
        Assert.All(table.Cheapest, c => Assert.True(c.Chance >= 0.8));
    }

    // Owen's and the noncentral t answers for each question, at equal variances; Welch costs less than 0.02 from nine coupons up.
    [Theory]
    [InlineData(Question.NotWorse, 0.95)]
    [InlineData(Question.Better, 1.6)]
    [InlineData(Question.Difference, 1.2)]
    [InlineData(Question.Equivalent, 1.05)]
    public void Theory_stands_beside_every_question(Question question, double truth) =>
        Assert.All(Odds(Request() with { Question = question, Truths = [truth], Coupons = [9, 12], Loads = [1, 3] }).Table, r => Assert.Equal(r.YesByTheory!.Value, r.Answers["yes"], 0.02));

    [Fact]
    public void Lots_in_loads_of_their_own_are_refused_with_the_reason()
    {
        PlanRefusedException refused = Assert.Throws<PlanRefusedException>(() => Odds(Request() with { LotsInOwnLoads = true }));
        Assert.Equal("confounded-loads", refused.Reason);
        Assert.Contains("Put both lots into every load", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_that_does_not_fit_is_refused_and_the_others_stand()
    {
        PlanTable table = Odds(Request() with { Coupons = [4, 9], LoadCapacity = 12, Replicates = 500 });
        Assert.Equal(4, Assert.Single(table.Table).Coupons);
        Assert.Equal("capacity", Assert.Single(table.Refused).Reason);
    }

    [Fact]
    public void Coupons_kept_for_an_extension_take_their_places_in_the_loads() =>
        Assert.Equal("capacity", Assert.Throws<PlanRefusedException>(() => Odds(Request() with { Coupons = [9], LoadCapacity = 20, Extension = new() })).Reason);

    [Fact]
    public void An_extension_costs_what_is_to_be_expected()
    {
        PlanRow row = Odds(Request() with { Coupons = [6], Extension = new(), Replicates = 4000 }).Table[0];
        Assert.InRange(row.ChanceOfExtension!.Value, 0.3, 0.95);
        Assert.Equal(12 * (1 + row.ChanceOfExtension.Value), row.Cost, 9);
    }

    // Poisson: with 0.05 flaws in a coupon at least one of 12 is low with 1 - exp(-0.6). The lots differ by chance then, and agreement is harder to show.
    [Fact]
    public void Flaws_make_low_coupons_and_agreement_harder()
    {
        PlanTable table = Odds(Request() with { Coupons = [12], WithinHeatSd = 0.12, Flaws = new(0.05, 0.05, 0.5), Replicates = 4000 });
        Assert.Equal(1 - Math.Exp(-0.6), Assert.Single(table.LowCoupons).InCandidate, 12);
        Assert.True(table.Table[0].Answers["yes"] < table.Table[0].YesWithoutFlaws!.Value - 0.05);
        Assert.Equal(Odds(Request() with { Coupons = [12], WithinHeatSd = 0.12, Replicates = 4000 }).Table[0].Answers["yes"], table.Table[0].YesWithoutFlaws!.Value, 12);
    }

    [Fact]
    public void One_heat_a_side_without_history_says_nothing_of_sources()
    {
        PlanTable table = Odds(Request() with { Estimand = Estimand.Sources, Coupons = [9], Replicates = 500 });
        Assert.Equal(1, table.Table[0].Odds["no-verdict"]);
        Assert.Contains(table.Notes, n => n.Contains("heat-to-heat-scatter-unknown", StringComparison.Ordinal));
    }

    [Fact]
    public void A_margin_in_hardness_without_a_resolved_slope_is_refused() => Assert.Equal("margin-not-resolved", Assert.Throws<PlanRefusedException>(() =>
        Odds(Request() with { MarginIn = PlanMargin.Hardness, MarginHigh = 1, Trend = new(-0.05, 0.04, 8, 0, 0.3, 50) })).Reason);
}
