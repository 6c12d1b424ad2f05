using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

public sealed class TypeReadingTests : OwnBench
{
    private static readonly CouponKey s_coupon = new("K17", "1");

    private Outcome<Reading> Type(string text, string property = "impact energy", string unit = "J", int number = 1, string? instrument = null, string coupon = "1") =>
        new TypeReading(Bench).Run(new(new("K17", coupon), property, number, text, unit, instrument), Hand);

    [Theory]
    [InlineData("41.20", "J", 41.2, "41.20", "J")]
    [InlineData("30,5 ft lb", "J", 30.5, "30.5", "ft·lbf")]
    [InlineData(">50", "J", 50, ">50", "J")]
    public void A_reading_is_stored_as_typed(string text, string unit, double value, string kept, string keptUnit)
    {
        Outcome<Reading> outcome = Type(text, unit: unit);
        Assert.True(outcome.Done, Text(outcome));
        CensoredValue stored = Assert.Single(Bench.Readings(s_coupon)).Typed;
        Assert.Equal((value, kept, keptUnit), (stored.Value, stored.Text, stored.Unit));
    }

    [Theory]
    [InlineData("forty", "impact energy", "J", "expected a figure")]
    [InlineData("-4", "impact energy", "J", "expected above 0")]
    [InlineData("41", "impact energy", "kJ", "J or ft·lbf")]
    [InlineData("610", "hardness", "HRC", "at most 72 HRC")]
    public void What_cannot_be_a_reading_is_refused(string text, string property, string unit, string because)
    {
        Outcome<Reading> outcome = Type(text, property, unit);
        Assert.False(outcome.Done);
        Assert.Contains(because, Text(outcome), StringComparison.Ordinal);
        Assert.Empty(Bench.Readings(s_coupon));
    }

    [Fact]
    public void Unknown_coupon_and_instrument_are_named()
    {
        Assert.Contains("K17/9 is not on this bench", Text(Type("41", coupon: "9")), StringComparison.Ordinal);
        Assert.Contains("Instrument P9", Text(Type("41", instrument: "P9")), StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_again_changes_nothing_and_another_figure_asks_for_a_correction()
    {
        Type("41.2");
        Assert.True(Type("41.2").Done);
        Assert.Contains("correct it with a reason", Text(Type("42.1")), StringComparison.Ordinal);
        Assert.Equal("41.2", Assert.Single(Bench.Readings(s_coupon)).Typed.Text);
    }

    [Fact]
    public void A_correction_keeps_when_it_was_read_and_undo_goes_back_step_by_step()
    {
        Reading first = Type("41.2").Value!;
        TypeReading type = new(Bench);
        Assert.False(type.Correct(new(s_coupon, "impact energy", 1, "42.1", "J"), "", Hand).Done);
        Outcome<Reading> corrected = type.Correct(new(s_coupon, "impact energy", 1, "42.1", "J"), "digits swapped", Hand);
        Assert.Equal((first.ReadAtUtc, "42.1"), (corrected.Value!.ReadAtUtc, corrected.Value.Typed.Text));
        Assert.Equal("41.2", type.Undo(s_coupon, "impact energy", 1, Hand).Value!.Typed.Text);
        Assert.Equal("41.2", Assert.Single(Bench.Readings(s_coupon)).Typed.Text);
        Assert.Equal(3, Bench.Trail("reading", "K17/1").Count);
        Type("40.0", number: 2);
        Assert.True(type.Undo(s_coupon, "impact energy", 2, Hand).Done);
        Assert.Single(Bench.Readings(s_coupon));
        Assert.False(type.Undo(s_coupon, "impact energy", 2, Hand).Done);
    }

    [Fact]
    public void Range_resolution_and_verification_of_the_instrument_are_looked_at()
    {
        Bench.Commit("A", null, [
            new BenchChange.PutInstrument(new("P1", "pendulum", "impact energy", "ft·lbf", 0.5, 3, 40)),
            new BenchChange.PutVerification(new("P1", new(2024, 1, 1), new(2025, 1, 1), true)),
        ]);
        // 40 ft·lbf are 54.2 J; 25 steps of 0.5 ft·lbf are 16.9 J; 3 ft·lbf are 4.1 J.
        string above = Text(Type("60", instrument: "P1"));
        Assert.Contains("above the usable range", above, StringComparison.Ordinal);
        Assert.Contains("not in verification on 2026-05-06", above, StringComparison.Ordinal);
        Assert.Contains("less than 25 steps", Text(Type("10", instrument: "P1", number: 2)), StringComparison.Ordinal);
        Assert.Contains("below the usable range", Text(Type("3", instrument: "P1", number: 3)), StringComparison.Ordinal);
        Assert.DoesNotContain("range", Text(Type("30", instrument: "P1", number: 4)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_wide_spread_of_hardness_on_one_coupon_is_told()
    {
        Assert.Empty(Type("61.0", "hardness", "HRC").Findings);
        Assert.Empty(Type("61.3", "hardness", "HRC", 2).Findings);
        // SD of 61.0, 61.3, 59.8 is 0.79 by hand.
        Assert.Contains("scatter by 0.79 HRC", Text(Type("59.8", "hardness", "HRC", 3)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_slip_of_unit_is_asked_about_and_kept()
    {
        List<BenchChange> history = [];
        for (int heat = 0; heat < 8; heat++)
        {
            history.Add(new BenchChange.PutHeat(new($"H{heat}", "Nord", "AISI M4", "powder")));
            for (int i = 0; i < 4; i++)
            {
                CouponKey key = new($"H{heat}", $"{i}");
                history.Add(new BenchChange.PutCoupon(new(key.Heat, key.Coupon, "L", "unnotched 7×10×55")));
                history.Add(new BenchChange.PutReading(new(key, "hardness", 1, CensoredValue.Of(60 + (0.25 * heat), "HRC"))));
                history.Add(new BenchChange.PutReading(new(key, "impact energy", 1, CensoredValue.Of(42 - heat + i, "J"))));
            }
        }
        Bench.Commit("A", null, history);
        Type("61.0", "hardness", "HRC");
        Outcome<Reading> slipped = Type("29");
        Assert.True(slipped.Done);
        Assert.Contains("as 29 ft·lbf it would fit", Text(slipped), StringComparison.Ordinal);
        Type("61.0", "hardness", "HRC", coupon: "2");
        Assert.Empty(Type("40", coupon: "2").Findings);
    }

    [Fact]
    public void What_is_far_outside_its_kind_is_asked_about_once()
    {
        // Twelve coupons of mean 40 J, SD 2.6 J (of ln: 0.066, taken as 0.08): the band is about 34 to 47 J, far out below 31 and above 51 J.
        double[] energies = [36.2, 44.1, 39.5, 41.0, 37.7, 42.8, 38.4, 40.6, 43.3, 35.9, 39.9, 41.7];
        Coupon kind = Bench.Coupons("K17").First(c => c.Name == "1");
        Bench.Commit("A", null, energies.SelectMany((e, i) => new BenchChange[]
        {
            new BenchChange.PutCoupon(kind with { Heat = "M03", Name = $"h{i}" }),
            new BenchChange.PutReading(new(new("M03", $"h{i}"), "impact energy", 1, CensoredValue.Of(e, "J"))),
        }));
        TypeReading type = new(Bench, new ReadingHistory());
        Reading slipped = type.Run(new(s_coupon, "impact energy", 1, "29.5", "J"), Hand).Value!;
        ReadingDoubt doubt = Assert.Single(type.DoubtsOf([slipped])[slipped]);
        Assert.Equal((DoubtKind.UnitSlip, "ft·lbf", true), (doubt.Kind, doubt.OtherUnit!.Name, doubt.Asks));
        Assert.Equal(29.5 * 1.3558179483314004, doubt.AsOther, 9);

        // 60 J is 44 ft·lbf read as J: no unit makes 60 fit, as 81 J lies out too.
        Reading far = type.Correct(new(s_coupon, "impact energy", 1, "60", "J"), "test", Hand).Value!;
        Assert.Equal(DoubtKind.FarOut, Assert.Single(type.DoubtsOf([far])[far]).Kind);
        Reading confirmed = type.Correct(new(s_coupon, "impact energy", 1, "60", "J", Cause: ReadingDoubt.Confirmed), "asked", Hand).Value!;
        Assert.Empty(type.DoubtsOf([confirmed]));
    }

    [Fact]
    public void A_coupon_that_did_not_break_gives_a_bound_and_is_not_asked_about()
    {
        Outcome<Reading> outcome = new TypeReading(Bench).Run(new(s_coupon, "impact energy", 1, "140", "J", State: CouponState.NotBroken), Hand);
        Assert.Equal((">140", Censoring.Above), (outcome.Value!.Typed.Text, outcome.Value.Typed.Censoring));
        Assert.Empty(outcome.Findings);
    }

    [Fact]
    public void What_belongs_to_a_reading_is_stored_with_it_or_not_at_all()
    {
        BenchChange with = new BenchChange.PutSource(new("Late", "Source Z"));
        Assert.False(new TypeReading(Bench).Run(new(s_coupon, "impact energy", 1, "forty", "J"), Hand, with).Done);
        Assert.DoesNotContain(Bench.Sources(), s => s.Name == "Late");
        Assert.True(new TypeReading(Bench).Run(new(s_coupon, "impact energy", 1, "40", "J"), Hand, with).Done);
        Assert.Contains(Bench.Sources(), s => s.Name == "Late");
    }

    [Fact]
    public void A_reading_is_withdrawn_with_its_reason()
    {
        Type("41.2");
        TypeReading type = new(Bench);
        type.Correct(new(s_coupon, "impact energy", 1, "42.1", "J"), "digits swapped", Hand);
        Assert.True(type.Withdraw(s_coupon, "impact energy", 1, "typed again", Hand).Done);
        Assert.Empty(Bench.Readings(s_coupon));
        Assert.Equal("typed again", Bench.Trail("reading", "K17/1")[0].Why);
    }

    [Theory]
    [InlineData("4o.1")]
    [InlineData("4.1.7x2")]
    [InlineData("  ")]
    public void A_slip_of_the_finger_is_no_unit(string text) => Assert.Contains(text.Trim().Length == 0 ? "Nothing was typed" : "is not a number", Text(Type(text)), StringComparison.Ordinal);

    [Fact]
    public void Locked_readings_take_corrections_with_a_warning_and_nothing_else()
    {
        Type("41.2");
        new WriteEnquiry(Bench).New(new("E-1", "t"), Hand);
        new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["M03"], []), Hand);
        KeepKey key = new(Bench);
        key.Seal("E-1", Bench.Coupons().ToDictionary(c => c.Key, c => $"{c.Heat[0]}{c.Name}"), Hand);
        key.LockReadings("E-1", Hand);
        Assert.Contains("E-1 are locked", Text(Type("40", number: 2)), StringComparison.Ordinal);
        TypeReading type = new(Bench);
        Assert.False(type.Undo(s_coupon, "impact energy", 1, Hand).Done);
        Outcome<Reading> corrected = type.Correct(new(s_coupon, "impact energy", 1, "42.1", "J"), "typo", Hand);
        Assert.Contains("shown beside the verdict", Text(corrected), StringComparison.Ordinal);
    }
}
