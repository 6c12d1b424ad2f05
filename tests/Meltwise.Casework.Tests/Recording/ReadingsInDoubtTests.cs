using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

/// <summary>Readings that no verification covers. Days and figures are invented; they check behaviour.</summary>
public sealed class ReadingsInDoubtTests : OwnBench
{
    [Fact]
    public void Readings_are_found_by_instrument_with_the_reason()
    {
        Bench.Commit("A", null,
        [
            new BenchChange.PutInstrument(new("P1", "pendulum", "impact energy", "J")),
            new BenchChange.PutInstrument(new("P2", "pendulum", "impact energy", "J")),
            new BenchChange.PutVerification(new("P1", new(2025, 1, 10), new(2026, 1, 10), true)),
            new BenchChange.PutVerification(new("P1", new(2026, 3, 1), new(2027, 3, 1), true)),
            new BenchChange.PutVerification(new("P1", new(2026, 9, 1), new(2026, 9, 1), false)),
            Read("K17", "1", "P1", new(2025, 6, 1)), Read("K17", "2", "P1", new(2026, 2, 2)), Read("K17", "3", "P1", new(2026, 5, 5)),
            Read("M03", "1", "P2", new(2026, 2, 2)), Read("M03", "2", "P1", null),
        ]);
        IReadOnlyList<ReadingInDoubt> found = ReadingsInDoubt.OfInstrument(Bench, "P1");
        Assert.Equal([("2", InstrumentState.Lapsed), ("3", InstrumentState.DoubtedBack)], found.Select(f => (f.Reading.Coupon.Coupon, f.Standing.State)));
        Assert.Empty(ReadingsInDoubt.OfInstrument(Bench, "P2"));

        IReadOnlyList<CouponRow> one = [.. Bench.CouponTable(new(["K17"])).Rows.Where(r => r.Coupon is "1" or "2")];
        Assert.Equal(["2"], ReadingsInDoubt.OfCoupons(Bench, one).Select(f => f.Reading.Coupon.Coupon));
        Assert.Equal(
            [
                "1 reading of impact energy made while not in verification: P1, 2026-02-02; the verification of 2025-01-10 held until 2026-01-10.",
                "1 reading of impact energy in doubt: P1, 2026-05-05; the next verification, of 2026-09-01, failed.",
            ],
            ReadingsInDoubt.Say(found));
    }

    [Fact]
    public void Stretches_lie_end_to_end_with_the_days_that_are_covered()
    {
        Verification[] kept = [new("P1", new(2025, 1, 10), new(2026, 1, 10), true), new("P1", new(2026, 3, 1), new(2027, 3, 1), true)];
        Assert.Equal(
            [(new(2025, 1, 1), new(2025, 1, 9), InstrumentState.BeforeFirst), (new(2026, 1, 11), new(2026, 2, 28), InstrumentState.Lapsed)],
            VerificationStanding.Stretches(kept, new(2025, 1, 1), new(2026, 12, 31)).Select(s => (s.From, s.To, s.Standing.State)));
        Assert.Empty(VerificationStanding.Stretches([], new(2025, 1, 1), new(2026, 12, 31)));
    }

    [Theory]
    [InlineData("impact energy", "J", 15.0, 1.4)]
    [InlineData("impact energy", "J", 100.0, 5.0)]
    [InlineData("impact energy", "ft·lbf", 11.0, 1.0)]
    [InlineData("hardness", "HRC", 25.0, 1.0)]
    [InlineData("hardness", "HRC", 62.4, 0.5)]
    [InlineData("hardness", "HRC", 57.0, null)]
    [InlineData("carbide fraction", "vol%", 12.0, null)]
    public void The_tolerance_is_that_of_the_standard_or_none(string property, string unit, double certified, double? tolerance)
    {
        // ASTM E23, annex A2, and ASTM E18, table A1.3; both from memory.
        Assert.Equal(tolerance, VerificationTolerance.Of(property, unit, certified));
    }

    private static BenchChange.PutReading Read(string heat, string coupon, string instrument, DateOnly? on) =>
        new(new(new(heat, coupon), "impact energy", 1, CensoredValue.Of(40, "J"), instrument, ReadOn: on));
}
