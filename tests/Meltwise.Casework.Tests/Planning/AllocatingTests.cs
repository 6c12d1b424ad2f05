using System.Text.Json;
using CsCheck;
using Meltwise.Casework.Planning;
using Xunit;

namespace Meltwise.Casework.Tests.Planning;

public sealed class AllocatingTests
{
    private static AllocationRequest Request(int candidate, int reference, int loads, int capacity, long seed = 3) => new()
    {
        Heats = [new("K17", false, reference), new("M03", true, candidate)],
        Loads = loads,
        Capacity = capacity,
        Seed = seed,
    };

    private static readonly Gen<(int Candidate, int Reference, int Loads, long Seed)> s_plans =
        Gen.Select(Gen.Int[3, 20], Gen.Int[3, 20], Gen.Int[1, 3], Gen.Long[0, 1_000_000]);

    [Theory]
    [InlineData("62; 60,5; 59", 62, 60.5)]
    [InlineData("62, 60.5", 62, 60.5)]
    [InlineData("3x1.5", 61.5, 60)]
    [InlineData("3 × 1,5 HRC", 61.5, 60)]
    public void Levels_of_a_ladder_are_read_as_they_are_written(string text, double first, double second)
    {
        PlannedLadder ladder = LadderText.Read(text, null, 0.4, -0.09);
        Assert.Equal([first, second], ladder.Reference.Take(2));
        Assert.Equal(first + 0.4, ladder.Candidate[0], 12);
        Assert.Equal(ladder.Reference, LadderText.Read(LadderText.Write(ladder.Reference), null, 0, 0).Reference);
    }

    [Theory]
    [InlineData("62")]
    [InlineData("soft, hard")]
    [InlineData("1x2")]
    [InlineData("62; 160")]
    [InlineData("3x0")]
    public void What_is_no_ladder_is_said(string text) => Assert.Contains("is no ladder of the reference", Assert.Throws<PlanFaultException>(() => LadderText.Read(text, null, 0, 0)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_ladder_has_both_sides_at_every_level_of_every_load()
    {
        Allocation allocation = Allocating.Of(new() { Heats = [new("R", false, 12), new("C", true, 12)], Loads = 2, Capacity = 12, Levels = 3, Seed = 3 });
        Assert.All(allocation.Coupons.GroupBy(c => (c.Heat, c.Load, c.Level)), g => Assert.Equal(2, g.Count()));
        Assert.Contains("do not divide", Assert.Throws<AllocationRefusedException>(() => Allocating.Of(new() { Heats = [new("R", false, 4), new("C", true, 4)], Loads = 1, Capacity = 12, Levels = 3, Seed = 3 })).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_load_holds_both_sides_and_no_side_leans_on_one_load() => s_plans.Sample(p =>
    {
        Allocation a = Allocating.Of(Request(p.Candidate, p.Reference, p.Loads, 40, p.Seed));
        foreach (bool side in (bool[])[true, false])
        {
            int[] perLoad = [.. Enumerable.Range(1, p.Loads).Select(l => a.Coupons.Count(c => c.Load == l && c.IsCandidate == side))];
            if (perLoad.Min() < 1 || perLoad.Max() - perLoad.Min() > 1) return false;
        }
        return true;
    });

    [Fact]
    public void Every_coupon_has_one_code_one_place_and_one_turn() => s_plans.Sample(p =>
    {
        Allocation a = Allocating.Of(Request(p.Candidate, p.Reference, p.Loads, 40, p.Seed));
        int n = p.Candidate + p.Reference;
        return a.Coupons.Select(c => c.Code).Distinct().Count() == n
            && a.Coupons.Select(c => (c.Load, c.Position)).Distinct().Count() == n
            && a.Coupons.Select(c => (c.Heat, c.Blank)).Distinct().Count() == n
            && a.Coupons.Select(c => c.BreakOrder).Order().SequenceEqual(Enumerable.Range(1, n))
            && a.Coupons.Select(c => c.HardnessOrder).Order().SequenceEqual(Enumerable.Range(1, n));
    });

    [Fact]
    public void Equal_sides_break_two_and_two() => Gen.Long[0, 100_000].Sample(seed =>
        Allocating.Of(Request(8, 8, 2, 20, seed)).InBreakOrder.Chunk(4).All(block => block.Count(c => c.IsCandidate) == 2));

    [Fact]
    public void One_seed_gives_one_allocation_and_another_seed_another()
    {
        Assert.Equal(PlanJson.Write(Allocating.Of(Request(6, 6, 2, 8))), PlanJson.Write(Allocating.Of(Request(6, 6, 2, 8))));
        Assert.NotEqual(Allocating.Of(Request(6, 6, 2, 8)).KeyDigest, Allocating.Of(Request(6, 6, 2, 8, seed: 4)).KeyDigest);
    }

    [Fact]
    public void More_loads_than_coupons_of_a_side_are_refused()
    {
        AllocationRefusedException refused = Assert.Throws<AllocationRefusedException>(() => Allocating.Of(Request(2, 9, 3, 8)));
        Assert.Equal("confounded-loads", refused.Reason);
        Assert.Contains("Use 2 loads at most", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Coupons_that_do_not_fit_are_refused() =>
        Assert.Equal("capacity", Assert.Throws<AllocationRefusedException>(() => Allocating.Of(Request(9, 9, 2, 8))).Reason);

    [Fact]
    public void Sides_in_separate_sessions_are_found() =>
        Assert.StartsWith("No session holds coupons of both sides", Allocating.Confounded("session", [(true, "Monday"), (true, "Monday"), (false, "Tuesday")]), StringComparison.Ordinal);

    [Fact]
    public void Sides_that_share_a_session_are_fine() =>
        Assert.Null(Allocating.Confounded("session", [(true, "Monday"), (false, "Monday"), (false, "Tuesday")]));

    [Fact]
    public void Codes_have_no_look_alikes_and_survive_one_misread_character()
    {
        IReadOnlyList<string> codes = BlindCodes.Draw(300, 5);
        Assert.All(codes, c => Assert.DoesNotContain(c, ch => "0ODQ1IL2Z5S6G8BUV".Contains(ch, StringComparison.Ordinal)));
        for (int i = 0; i < codes.Count; i++)
            for (int j = 0; j < i; j++)
                Assert.True(codes[i].Zip(codes[j]).Count(p => p.First != p.Second) >= 2, $"{codes[i]} and {codes[j]}");
    }

    [Fact]
    public void The_table_is_written_with_the_names_of_the_command_contract()
    {
        PlanTable table = OutcomeOdds.Of(new() { MarginLow = 0.8, MarginHigh = 1.25, WithinHeatSd = 0.12, Coupons = [3], Replicates = 200 }, cancel: TestContext.Current.CancellationToken);
        using JsonDocument json = JsonDocument.Parse(PlanJson.Write(table));
        JsonElement row = json.RootElement.GetProperty("table")[0];
        Assert.Equal(3, row.GetProperty("coupons").GetInt32());
        Assert.Equal(1, row.GetProperty("heats").GetInt32());
        Assert.Equal(1, row.GetProperty("trueRatio").GetDouble());
        Assert.InRange(row.GetProperty("odds").GetProperty("inconclusive").GetDouble(), 0, 1);
        Assert.InRange(row.GetProperty("standardError").GetProperty("inconclusive").GetDouble(), 0, 1);
    }
}
