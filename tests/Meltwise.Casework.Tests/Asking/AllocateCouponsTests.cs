using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Asking;

/// <summary>A series of coupons as it comes onto the bench. The dealing itself is checked with <see cref="Allocating"/>.</summary>
public sealed class AllocateCouponsTests : OwnBench
{
    private static readonly CouponPlan s_plan = new("E-9", 6, 2, null, 7, IsBlind: true, "unnotched 7×10×55", "L");

    private void Ask()
    {
        Assert.True(new WriteEnquiry(Bench).New(new("E-9", "Is it the same steel?"), Hand).Done);
        Assert.True(new ChooseHeats(Bench).Run(new("E-9", ["P1"], ["P2"], [], RecordUnknown: true), Hand).Done);
    }

    [Fact]
    public void Heats_known_by_name_alone_are_recorded_with_the_roles_or_not_at_all()
    {
        Ask();
        Assert.Contains(Bench.Heats(), h => h is { Name: "P2", Source: null });
        Assert.False(new ChooseHeats(Bench).Run(new("E-9", ["P3"], ["P3"], [], RecordUnknown: true), Hand).Done);
        Assert.DoesNotContain(Bench.Heats(), h => h.Name == "P3");
    }

    [Fact]
    public void A_series_stands_on_the_bench_as_it_was_dealt()
    {
        Ask();
        Outcome<Enquiry> made = new AllocateCoupons(Bench).Run(s_plan, Hand);
        Assert.True(made.Done);
        Coupon[] coupons = [.. Bench.Coupons("P1"), .. Bench.Coupons("P2")];
        Allocation dealt = Allocating.Of(new() { Heats = [new("P1", false, 6), new("P2", true, 6)], Loads = 2, Capacity = 12, Seed = 7 });
        Assert.Equal(
            dealt.InBreakOrder.Select(c => (c.Heat, $"{c.Blank}", $"{c.Load}", (int?)c.BreakOrder, (string?)c.Code)),
            coupons.OrderBy(c => c.Order).Select(c => (c.Heat, c.Name, c.Load!, c.Order, c.Code)));
        Assert.Equal(12, made.Value!.Coupons.Count);
        Assert.NotNull(made.Value.Key);
        Assert.Contains(Bench.Trail("enquiry", "E-9"), t => t.Why?.Contains("seed 7", StringComparison.Ordinal) == true);
    }

    [Fact]
    public void A_second_series_goes_on_numbering_and_takes_other_codes()
    {
        Ask();
        new AllocateCoupons(Bench).Run(s_plan, Hand);
        Assert.True(new AllocateCoupons(Bench).Run(s_plan, Hand).Done);
        Coupon[] coupons = [.. Bench.Coupons("P1"), .. Bench.Coupons("P2")];
        Assert.Equal(24, coupons.Select(c => c.Code).Distinct().Count());
        Assert.Equal(Enumerable.Range(1, 24), coupons.Select(c => c.Order!.Value).Order());
        Assert.Equal(["1", "2", "3", "4"], coupons.Select(c => c.Load!).Distinct().Order());
        Assert.Equal(24, Bench.FindEnquiry("E-9")!.Coupons.Count);
        Assert.Contains(Bench.Trail("enquiry", "E-9"), t => t.Why?.Contains("seed 8", StringComparison.Ordinal) == true);
    }

    [Fact]
    public void A_plan_that_cannot_tell_sides_from_loads_is_refused_in_words()
    {
        Ask();
        Outcome<Enquiry> refused = new AllocateCoupons(Bench).Run(s_plan with { CouponsPerHeat = 2, Loads = 3 }, Hand);
        Assert.False(refused.Done);
        Assert.Contains("side and load could not be told apart", refused.Findings[0].Text, StringComparison.Ordinal);
        Assert.Contains("do not fit", new AllocateCoupons(Bench).Run(s_plan with { LoadCapacity = 4 }, Hand).Findings[0].Text, StringComparison.Ordinal);
        Assert.Contains("no enquiry", new AllocateCoupons(Bench).Run(s_plan with { Enquiry = "E-0" }, Hand).Findings[0].Text, StringComparison.Ordinal);
        Assert.Empty(Bench.Coupons("P1"));
    }
}
