using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>What stops a verdict, what is left out and said, and what cannot be set up at all. The gates of the oracle's cases are in VerdictOracleTests.</summary>
public sealed class GateTests
{
    private static readonly double[] s_a = [40.1, 44.0, 37.5, 42.2, 39.0, 41.3], s_b = [39.5, 43.1, 36.8, 40.9, 42.6, 38.4];

    private static CouponRow[] Rows => [.. Coupons.Lot("K17", s_a, hrc: 62), .. Coupons.Lot("M03", s_b, hrc: 62.4)];

    [Fact]
    public void Unknown_does_not_match_known()
    {
        CouponRow[] rows = [.. Rows.Select(r => r with { Orientation = r.Heat == "K17" ? "L" : null })];
        Verdict verdict = Judge(Coupons.Input(rows) with { Lots = Coupons.Table(rows, "orientation") });
        Assert.Equal(Reason.StrataDiffer, verdict.Finding.Reason);
        Assert.Contains("orientation: K17 L, M03 unknown", verdict.Stratum.Differences);
    }

    [Fact]
    public void Fahrenheit_and_Celsius_of_one_temperature_are_one()
    {
        CouponRow[] rows = [.. Rows.Select(r => r with { TestTemperatureK = r.Heat == "K17" ? 296.15 : (73.4 - 32) / 1.8 + 273.15 })];
        Verdict verdict = Judge(Coupons.Input(rows));
        Assert.Empty(verdict.Stratum.Differences);
        Assert.Equal(23, verdict.Stratum.TestTemperatureC);
    }

    [Fact]
    public void Treatments_are_compared_by_their_set_values()
    {
        CouponRow[] rows = [.. Rows.Select(r => r with { Treatment = r.Heat == "K17" ? "austenitize 1150 °C; temper 560 °C" : "austenitize 1180 °C; temper 560 °C" })];
        Assert.Equal(Reason.StrataDiffer, Judge(Coupons.Input(rows)).Finding.Reason);
    }

    [Fact]
    public void An_instrument_out_of_verification_stops_it()
    {
        Verdict verdict = Judge(Coupons.Input(Rows) with { UnverifiedInstruments = ["pendulum 1 on 2026-03-12"] });
        Assert.Equal(Reason.InstrumentNotVerified, verdict.Finding.Reason);
        Assert.Contains("pendulum 1 on 2026-03-12", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Equal(Outcome.NoVerdict, verdict.Finding.Outcome);
    }

    [Fact]
    public void An_exclusion_in_time_leaves_the_coupon_out_and_shows_the_outcome_with_it()
    {
        CouponRow[] rows = Rows;
        rows[0] = rows[0] with { State = CouponState.Excluded, Cause = "mis-strike or wrong support", ExcludedBeforeKeyOpened = true };
        Verdict verdict = Judge(Coupons.Input(rows));
        Assert.Equal(5, verdict.Lots[0].N);
        Assert.Equal("before the key was opened", Assert.Single(verdict.LeftOut).Stamp);
        Assert.Equal(Judge(Coupons.Input(Rows)).AsTested!.Ratio!.Estimate, verdict.WithExcluded!.Ratio!.Estimate, 1e-14);
        Assert.Contains("exclusionsUndone", verdict.Variants!.Outcomes.Keys);
    }

    [Fact]
    public void An_exclusion_after_the_key_was_opened_does_not_count()
    {
        CouponRow[] rows = Rows;
        rows[0] = rows[0] with { State = CouponState.Excluded, Cause = "grinding burn", ExcludedBeforeKeyOpened = false };
        Verdict verdict = Judge(Coupons.Input(rows));
        Assert.Equal(6, verdict.Lots[0].N);
        Assert.True(Assert.Single(verdict.LeftOut).Enters);
    }

    [Fact]
    public void A_table_has_no_stamps_and_an_exclusion_needs_a_cause()
    {
        CouponRow[] rows = Rows;
        rows[0] = rows[0] with { State = CouponState.Excluded, Cause = "grinding burn" };
        rows[1] = rows[1] with { State = CouponState.Excluded };
        Verdict verdict = Judge(Coupons.Input(rows));
        Assert.Equal(5, verdict.Lots[0].N);
        Assert.Contains(verdict.LeftOut, l => l is { Stamp: "not stamped", Enters: false });
        Assert.Contains(verdict.Notes, n => n.Contains("without a cause", StringComparison.Ordinal));
    }

    [Fact]
    public void Repeat_readings_are_averaged_and_n_counts_coupons()
    {
        CouponRow[] rows = Rows;
        rows[0] = rows[0] with { Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [CensoredValue.Of(39.1, "J"), CensoredValue.Of(41.1, "J")] } };
        Verdict verdict = Judge(Coupons.Input(rows));
        Assert.Equal(6, verdict.Lots[0].N);
        Assert.Equal(s_a.Average(), verdict.Lots[0].Mean, 1e-12);
    }

    [Fact]
    public void Not_broken_is_a_bound()
    {
        CouponRow[] rows = Rows;
        rows[7] = rows[7] with { State = CouponState.NotBroken };
        Verdict verdict = Judge(Coupons.Input(rows));
        Assert.Equal(5, verdict.Censored!.Candidate.Uncensored);
        Assert.Equal("above", verdict.Lots[1].Coupons[1].Bound);
        Assert.Equal(Reason.TooManyCensored, verdict.EqualHardness!.Refused);
    }

    // The logarithm of 40.1 has a rounding of its own: three equal readings must not get a scatter of 1e-16 from it.
    [Theory]
    [InlineData(40.1, "K17")]
    [InlineData(40.3, "K17,K18")]
    [InlineData(0.1, "K17")]
    public void Equal_readings_have_no_scatter(double value, string reference)
    {
        CouponRow[] rows = [.. Coupons.Lot("K17", [value, value, value]), .. reference.Contains(',', StringComparison.Ordinal) ? Coupons.Lot("K18", s_a) : [], .. Coupons.Lot("M03", s_b)];
        Verdict verdict = Judge(Coupons.Input(rows) with { ReferenceHeats = reference.Split(',') });
        Assert.Equal(Reason.ZeroScatter, verdict.Finding.Reason);
        Assert.Equal(Reason.ZeroScatter, Judge(Coupons.Input([.. Coupons.Lot("K17", [value, value, value]), .. Coupons.Lot("M03", [value, value, value])])).Finding.Reason);
    }

    [Fact]
    public void A_lot_that_nobody_read_is_named()
    {
        Verdict verdict = Judge(Coupons.Input([.. Coupons.Lot("K17", s_a), .. Coupons.Lot("M03", s_b).Select(r => r with { Readings = new Dictionary<string, IReadOnlyList<CensoredValue>>() })]));
        Assert.Equal((Reason.TooFew, 0), (verdict.Finding.Reason, verdict.Lots[1].N));
        Assert.Contains("no coupon of the candidate has a valid reading of impact energy", verdict.Finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_scales_of_hardness_are_not_pooled()
    {
        ComparisonInput input = OracleCases.Input(OracleCases.Case("hardness-explains-it"));
        CouponRow[] rows = [.. input.Lots.Rows];
        rows[0] = rows[0] with { Hardness = [CensoredValue.Of(740, "HV")] };
        Assert.Equal(Reason.MixedHardnessScales, Judge(input with { Lots = input.Lots with { Rows = rows } }).Finding.Reason);
    }

    [Fact]
    public void Missing_hardness_of_a_lot_refuses_equal_hardness_only()
    {
        ComparisonInput input = OracleCases.Input(OracleCases.Case("as-tested-with-history"));
        Verdict verdict = Judge(input with { Lots = input.Lots with { Rows = [.. input.Lots.Rows.Select(r => r.Heat == "M03" ? r with { Hardness = [] } : r)] } });
        Assert.Equal(Reason.NoHardness, verdict.EqualHardness!.Refused);
        Assert.Equal("as-tested", verdict.Sources!.Basis);
        Assert.True(verdict.AsTested!.Stands);
    }

    [Fact]
    public void History_of_another_kind_is_left_out_and_counted()
    {
        ComparisonInput input = OracleCases.Input(OracleCases.Case("as-tested-with-history"));
        CouponRow[] history = [.. input.History!.Rows.Select((r, i) => r with { Grade = i % 3 == 0 ? "AISI D2" : i % 3 == 1 ? null : "AISI M4" })];
        CouponTable lots = Coupons.Table(input.Lots.Rows.Select(r => r with { Grade = "AISI M4" }), "grade");
        Verdict verdict = Judge(input with { Lots = lots, History = new(history, new HashSet<string>(["source", "grade"]), "history.csv") });
        Assert.Equal(history.Count(r => r.Grade == "AISI M4"), verdict.History!.Matched.Coupons);
        Assert.Equal(history.Length, verdict.History.MatchedForScatter.Coupons);
        Assert.Contains(verdict.History.LeftOut, l => l == new LeftOutCount("other grade", history.Count(r => r.Grade == "AISI D2")));
        Assert.Contains(verdict.History.LeftOut, l => l == new LeftOutCount("grade unknown", history.Count(r => r.Grade is null)));
        Assert.Contains(verdict.History.TakenAsOneKind, c => c.StartsWith("route", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("K17", "X99", "Heat X99 is not in coupons.csv, which holds K17, M03")]
    [InlineData("K17", "K17", "Heat K17 is both reference and candidate")]
    public void Roles_must_be_there(string reference, string candidate, string message) =>
        Assert.Contains(message, Assert.Throws<ComparisonFaultException>(() => Judge(Coupons.Input(Rows, reference: reference, candidate: candidate))).Message, StringComparison.Ordinal);

    [Fact]
    public void Faults_name_what_was_found_and_expected()
    {
        CouponRow[] negative = Rows, twice = Rows;
        negative[3] = Coupons.Row("K17", 4, -3);
        twice[1] = twice[1] with { Coupon = "K17-01" };
        Assert.Contains("reads -3 J. A value above 0 was expected", Fault(Coupons.Input(negative)), StringComparison.Ordinal);
        Assert.Contains("Coupon K17-01 of heat K17 is in coupons.csv twice", Fault(Coupons.Input(twice)), StringComparison.Ordinal);
        Assert.Contains("plus or minus so many vol%, not a ratio", Fault(Coupons.Input(Rows, new() { Property = "retained austenite", Margin = new Margin.Ratio(0.8, 1.25) })), StringComparison.Ordinal);
        Assert.Contains("is not in the table of properties", Fault(Coupons.Input(Rows, new() { Property = "springiness", Margin = new Margin.Ratio(0.8, 1.25) })), StringComparison.Ordinal);
        Assert.Contains("The margin is in MPa", Fault(Coupons.Input(Rows, new() { Property = "impact energy", Margin = new Margin.Absolute(3, "MPa") })), StringComparison.Ordinal);
        Assert.Contains("needs a good direction", Fault(Coupons.Input(Rows, Coupons.Rule() with { Better = GoodDirection.None, Question = Question.NotWorse })), StringComparison.Ordinal);
    }

    private static string Fault(ComparisonInput input) => Assert.Throws<ComparisonFaultException>(() => Judge(input)).Message;

    private static Verdict Judge(ComparisonInput input) => Comparison.Judge(input, TestContext.Current.CancellationToken);
}
