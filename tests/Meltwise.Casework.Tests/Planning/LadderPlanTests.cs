using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Planning;

/// <summary>Plans over a temper ladder of both lots. With levels of known hardness the lots' contrast is a noncentral t on N − 3 degrees of freedom. Numbers invented.</summary>
public sealed class LadderPlanTests
{
    private static readonly PlannedLadder s_ladder = new() { Reference = [62, 60, 58], Candidate = [63, 61, 59], Slope = -0.08, HardnessSd = 0 };

    private static PlanRequest Request() => new()
    {
        MarginLow = 0.8,
        MarginHigh = 1.25,
        WithinHeatSd = 0.12,
        Coupons = [2, 4],
        Truths = [1],
        Replicates = 40_000,
        Seed = 17,
        Ladder = s_ladder,
    };

    private static PlanTable Odds(PlanRequest request) => OutcomeOdds.Of(request, cancel: TestContext.Current.CancellationToken);

    // [Owen1965] and the noncentral t with V = s²(2/N_lot + ΔH²/S_xx), ν = N − 3, times the chance 0.95 that parallel lines pass for parallel: exact where hardness is read without error, so within 3.5 Monte-Carlo errors.
    [Theory]
    [InlineData(Question.Equivalent, 1.05)]
    [InlineData(Question.NotWorse, 0.95)]
    [InlineData(Question.Better, 1.6)]
    [InlineData(Question.Difference, 1.2)]
    public void Theory_stands_beside_every_question(Question question, double truth) =>
        Assert.All(Odds(Request() with { Question = question, Truths = [truth] }).Table, r => Assert.Equal(r.YesByTheory!.Value, r.Answers["yes"], 3.5 * Math.Max(0.0005, r.YesStandardError)));

    // Parallel lines are refused at their error rate, whatever the plan; every other refusal needs error in hardness.
    [Fact]
    public void Parallel_lines_are_refused_at_five_percent() => Assert.All(Odds(Request()).Table, r =>
    {
        Assert.Equal(["strata-differ"], r.Refusals!.Keys);
        Assert.Equal(0.05, r.Refusals["strata-differ"], 3.5 * Math.Sqrt(0.05 * 0.95 / 40_000));
        Assert.Equal(r.Odds["no-verdict"], r.Refusals.Values.Sum(), 12);
        Assert.Equal(1, r.Odds.Values.Sum(), 12);
    });

    [Fact]
    public void Lines_that_differ_in_slope_are_found_the_more_often_the_more_coupons()
    {
        double[] found = [.. Odds(Request() with { Coupons = [2, 6], Ladder = s_ladder with { SlopeDifference = -0.06 }, Replicates = 4000 }).Table.Select(r => r.Refusals!["strata-differ"])];
        Assert.True(found[0] > 0.1 && found[1] > found[0] + 0.2, string.Join(", ", found));
    }

    [Fact]
    public void Ladders_at_the_edge_of_overlap_and_levels_lost_in_reading_error_are_refused()
    {
        Dictionary<string, double> edge = new(Odds(Request() with { Ladder = s_ladder with { Candidate = [65.9, 63.9, 61.9], HardnessSd = 0.3 }, Replicates = 2000 }).Table[0].Refusals!);
        Assert.InRange(edge["outside-the-trend"], 0.2, 0.8);
        Dictionary<string, double> flat = new(Odds(Request() with { Coupons = [3], Ladder = s_ladder with { Reference = [60, 59.7], Candidate = [60.1, 59.8], HardnessSd = 0.4 }, Replicates = 2000 }).Table[0].Refusals!);
        Assert.True(flat["hardness-spread-too-small"] > 0.3);
    }

    // Two coupons at each of three levels of two lots at 2 each, and a load.
    [Fact]
    public void Coupons_are_counted_at_every_level()
    {
        PlanTable table = Odds(Request() with { Coupons = [2], CostPerCoupon = 2, CostPerLoad = 5, LoadCapacity = 12, Replicates = 500 });
        Assert.Equal(2 * 3 * 2 * 2 + 5, table.Table[0].Cost);
        Assert.Equal("equal-hardness", table.Table[0].Estimand);
        Assert.Equal("capacity", Assert.Throws<PlanRefusedException>(() => Odds(Request() with { Coupons = [2], LoadCapacity = 11 })).Reason);
    }

    [Fact]
    public void What_makes_no_ladder_is_said()
    {
        string Fault(PlanRequest request) => Assert.Throws<PlanFaultException>(() => Odds(request)).Message;
        Assert.Contains("the same number in both lots", Fault(Request() with { Ladder = s_ladder with { Candidate = [62, 60] } }), StringComparison.Ordinal);
        Assert.Contains("the same hardness", Fault(Request() with { Ladder = s_ladder with { Reference = [62, 62, 58] } }), StringComparison.Ordinal);
        Assert.Contains("one heat a side", Fault(Request() with { Heats = [2] }), StringComparison.Ordinal);
        Assert.Equal("strata-differ", Assert.Throws<PlanRefusedException>(() => Odds(Request() with { Estimand = Estimand.AsTested })).Reason);
        Assert.Equal("outside-the-trend", Assert.Throws<PlanRefusedException>(() => Odds(Request() with { Ladder = s_ladder with { Candidate = [68, 67, 66] } })).Reason);
    }

    // Hardness itself differs by the tempers, so that the lots can never be shown to agree in it over a ladder.
    [Fact]
    public void Hardness_as_a_primary_property_is_refused_over_a_ladder()
    {
        FurtherPrimary hardness = new() { Own = new() { Property = "hardness", Logarithmic = false, MarginLow = -1, MarginHigh = 1, HigherIsBetter = null, WithinHeatSd = 0.3, Coupons = [1] } };
        PlanRefusedException refused = Assert.Throws<PlanRefusedException>(() => Odds(Request() with { Further = [hardness] }));
        Assert.Equal("strata-differ", refused.Reason);
        Assert.Contains("can never show agreement", refused.Message, StringComparison.Ordinal);
    }
}
