using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

/// <summary>Which checks enter the scatter between sessions, and what is said of it. The estimate itself is held to published data in Meltwise.Statistics.Tests; figures here are invented.</summary>
public sealed class SessionScatterTests : OwnBench
{
    private static readonly Instrument s_tester = new("T1", "hardness tester", "hardness", "HRC");

    private static Verification Check(int day, double level, string? block = "block 62.4", bool passed = true, string instrument = "T1") =>
        new(instrument, new DateOnly(2026, 1, 1).AddDays(day), new DateOnly(2026, 1, 1).AddDays(day), passed, block, 62.4, level, Readings: [level - 0.1, level, level + 0.1]);

    private static readonly Verification[] s_six = [Check(0, 62.4), Check(7, 62.6), Check(14, 62.5), Check(21, 62.3), Check(28, 62.6), Check(35, 62.4)];

    [Fact]
    public void Checks_of_one_block_give_a_value_with_its_interval_and_origin()
    {
        SessionScatter scatter = SessionScatter.Of(s_tester, s_six)!;
        // Means 62.4 62.6 62.5 62.3 62.6 62.4: variance 0.01467; readings 0.01/3 is taken off: sqrt(0.01133) = 0.106.
        Assert.Equal(0.11, scatter.Offered);
        Assert.Equal("scatter between sessions 0.11 HRC (0.03 to 0.29), 6 sessions", scatter.InWords);
        Assert.Equal("checks of T1 on block 62.4, 6 sessions from 2026-01-01 to 2026-02-05; 95 % interval 0.03 to 0.29 HRC", scatter.Origin);
        Assert.Equal("", scatter.Missing);
    }

    [Fact]
    public void Failed_checks_means_without_readings_and_unnamed_blocks_do_not_enter()
    {
        SessionScatter plain = SessionScatter.Of(s_tester, s_six)!;
        SessionScatter more = SessionScatter.Of(s_tester, [.. s_six, Check(40, 64, passed: false), Check(41, 63) with { Readings = null }, Check(42, 65, block: null), Check(43, 66, instrument: "T2")])!;
        Assert.Equal(plain.InWords, more.InWords);
        Assert.Equal((1, 1), (more.MeansOnly, more.Failed));
        Assert.Contains("1 check with a mean only did not enter.", more.Notes());
        Assert.Contains("1 check that failed did not enter.", more.Notes());
        Assert.Equal(plain.Origin, SessionScatter.Of(s_tester, [.. s_six, Check(300, 63)], s_six[^1].On)!.Origin);
    }

    [Fact]
    public void Another_block_brings_its_own_level_and_costs_a_session()
    {
        SessionScatter both = SessionScatter.Of(s_tester, [.. s_six, Check(50, 45.2, "block 45"), Check(57, 45.4, "block 45"), Check(64, 45.1, "block 45")])!;
        Assert.Equal(["block 62.4", "block 45"], both.References);
        Assert.InRange(both.Offered!.Value, 0.08, 0.16);
        Assert.Equal(7, both.Estimate!.SessionDegreesOfFreedom);
    }

    [Fact]
    public void Too_few_sessions_are_said_with_their_interval_and_offer_nothing()
    {
        SessionScatter three = SessionScatter.Of(s_tester, s_six[..3])!;
        Assert.Null(three.Offered);
        Assert.Equal("scatter between sessions 0.08 HRC (0.00 to 0.63), 3 sessions: too few to use", three.InWords);
        Assert.StartsWith("3 sessions of 1 block; from five days of one block on", three.Missing, StringComparison.Ordinal);
        Assert.Contains("single readings", SessionScatter.Of(s_tester, [.. s_six.Select(v => v with { Readings = null })])!.InWords, StringComparison.Ordinal);
        Assert.Null(SessionScatter.Of(s_tester, []));
    }

    [Fact]
    public void The_tester_that_read_the_heats_is_asked_and_otherwise_the_one_checked_most()
    {
        Bench.Commit("A", null, [new BenchChange.PutInstrument(s_tester), new BenchChange.PutInstrument(s_tester with { Name = "T2" }), new BenchChange.PutInstrument(new("P1", "pendulum", "impact energy", "J"))]);
        Assert.Null(SessionScatter.OfHardness(Bench, ["K17"]));
        Bench.Commit("A", null, [.. s_six.Select(v => new BenchChange.PutVerification(v)), new BenchChange.PutVerification(Check(3, 62, instrument: "T2"))]);
        Assert.Equal("T1", SessionScatter.OfHardness(Bench, ["K17"])!.Instrument);
        Bench.Commit("A", null, [new BenchChange.PutReading(new(new("K17", "1"), "hardness", 1, CensoredValue.Of(61, "HRC"), "T2"))]);
        Assert.Equal("T2", SessionScatter.OfHardness(Bench, ["K17"])!.Instrument);
    }
}
