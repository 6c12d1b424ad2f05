using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage;
using Xunit;

namespace Meltwise.Casework.Tests.Planning;

/// <summary>A plan kept with an enquiry. Invented heats.</summary>
public sealed class KeepPlanTests : IDisposable
{
    private static readonly Hand s_hand = new("Ann");
    private readonly string _folder = Directory.CreateTempSubdirectory("meltwise-plan-").FullName;
    private readonly Bench _bench;

    public KeepPlanTests()
    {
        _bench = BenchFile.Create(Path.Combine(_folder, "bench.meltwise"), isDemonstration: false);
        new WriteEnquiry(_bench).New(new("E-1", "Is it the same?"), s_hand);
    }

    private static KeptPlan Plan(int coupons) => new()
    {
        Coupons = coupons,
        Heats = 1,
        Loads = 2,
        Spares = 1,
        Seed = 5,
        Estimand = "as-tested",
        Question = "equivalent",
        Margin = "25%",
        Yes = 0.84,
        YesStandardError = 0.005,
        At = 1,
        WithinHeatSd = 0.12,
        Notes = ["one"],
    };

    private static DecisionRule Rule(int? planned = null) => new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), PlannedCouponsPerLot = planned };

    [Fact]
    public void While_the_rule_is_open_its_planned_number_follows()
    {
        new SetRule(_bench).Write("E-1", Rule(), s_hand);
        Assert.True(new KeepPlan(_bench).Run("E-1", Plan(9), s_hand).Done);
        Assert.Equal(9, _bench.FindEnquiry("E-1")!.Rule!.PlannedCouponsPerLot);
        KeptPlan kept = KeptPlan.Find(_bench, "E-1")!;
        Assert.Equal((9, 2, 10, 0.84), (kept.Coupons, kept.Loads, kept.ToMake, kept.Yes));
    }

    [Fact]
    public void A_plan_over_a_ladder_counts_the_coupons_of_all_levels()
    {
        new SetRule(_bench).Write("E-1", Rule(), s_hand);
        Assert.True(new KeepPlan(_bench).Run("E-1", Plan(4) with { Ladder = "62; 60.5; 59", LadderOfCandidate = "62.4; 60.9; 59.4", Further = ["hardness ±1 HRC"] }, s_hand).Done);
        KeptPlan kept = KeptPlan.Find(_bench, "E-1")!;
        Assert.Equal((3, 15, 12), (kept.Levels, kept.ToMake, _bench.FindEnquiry("E-1")!.Rule!.PlannedCouponsPerLot!.Value));
        Assert.Equal(["hardness ±1 HRC"], kept.Further!);
    }

    [Fact]
    public void A_locked_rule_stands_and_the_difference_is_said()
    {
        Enquiry locked = _bench.FindEnquiry("E-1")! with { Rule = Rule(12), Lock = new(new(2026, 3, 1, 8, 0, 0, DateTimeKind.Utc), "Ann", RuleText.Digest(Rule(12))) };
        _bench.Commit("Ann", "locked", [new BenchChange.PutEnquiry(locked)]);
        Outcome<Enquiry> outcome = new KeepPlan(_bench).Run("E-1", Plan(9), s_hand);
        Assert.Contains(outcome.Findings, f => f.Text.Contains("plans 12 coupons a lot, this plan 9", StringComparison.Ordinal));
        Assert.Equal(12, _bench.FindEnquiry("E-1")!.Rule!.PlannedCouponsPerLot);
        Assert.NotNull(KeptPlan.Find(_bench, "E-1"));
    }

    [Fact]
    public void No_plan_is_kept_for_an_enquiry_that_is_not_there() => Assert.False(new KeepPlan(_bench).Run("E-2", Plan(9), s_hand).Done);

    public void Dispose()
    {
        _bench.Dispose();
        Directory.Delete(_folder, recursive: true);
    }
}
