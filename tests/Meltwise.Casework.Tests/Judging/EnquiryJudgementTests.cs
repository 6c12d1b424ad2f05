using Meltwise.Casework.Asking;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>An enquiry judged from a real bench file: the rule's standing, stamps of exclusions, verifications, history, and what is kept.</summary>
public sealed class EnquiryJudgementTests : OwnBench
{
    private static readonly double[] s_reference = [40.1, 44.0, 37.5, 42.2, 39.0, 41.3], s_candidate = [39.5, 43.1, 36.8, 40.9, 42.6, 38.4];
    private static readonly DecisionRule s_rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25) };

    private Enquiry Ready(Func<Enquiry, Enquiry>? change = null)
    {
        List<BenchChange> changes = [new BenchChange.PutInstrument(new("pendulum 1", "pendulum", "impact energy", "J"))];
        foreach ((string heat, double[] values) in new[] { ("K17", s_reference), ("M03", s_candidate) })
            for (int i = 0; i < 6; i++)
            {
                changes.Add(new BenchChange.PutCoupon(new(heat, $"c{i + 1}", "L", "unnotched 7×10×55", Order: i + 1)));
                changes.Add(new BenchChange.PutReading(new(new(heat, $"c{i + 1}"), "impact energy", 1, CensoredValue.Of(values[i], "J"), "pendulum 1", TestTemperatureK: 296.15, ReadOn: new(2026, 5, 5))));
            }
        Enquiry enquiry = new() { Name = "E-1", Title = "Is the second source the same steel?", ReferenceHeats = ["K17"], CandidateHeats = ["M03"], Rule = s_rule, Coupons = [.. changes.OfType<BenchChange.PutCoupon>().Select(c => c.Coupon.Key)] };
        Bench.Commit("A. Tester", "set up", [.. changes, new BenchChange.PutEnquiry(change?.Invoke(enquiry) ?? enquiry)]);
        return Bench.FindEnquiry("E-1")!;
    }

    private static readonly DateTime s_noon = new(2026, 5, 6, 12, 0, 0, DateTimeKind.Utc);

    private static Enquiry Locked(Enquiry e) => e with { Lock = new(s_noon, "A. Tester", RuleText.Digest(e.Rule!)) };

    private Verdict Judge(Enquiry enquiry) => EnquiryJudgement.Judge(Bench, enquiry, TestContext.Current.CancellationToken);

    [Fact]
    public void The_verdict_of_the_bench_is_that_of_the_table()
    {
        Verdict bench = Judge(Ready(Locked)), table = Comparison.Judge(Coupons.Input([.. Coupons.Lot("K17", s_reference), .. Coupons.Lot("M03", s_candidate)]), TestContext.Current.CancellationToken);
        Assert.Equal(table.AsTested!.Ratio, bench.AsTested!.Ratio);
        Assert.Equal("locked", bench.Rule.Standing);
        Assert.Equal(RuleText.Digest(s_rule), bench.Reproduction.RuleDigest);
        Assert.Null(bench.Finding.Warning);
        Assert.Equal(23, bench.Stratum.TestTemperatureC);
    }

    [Fact]
    public void What_is_kept_reads_back_and_stamps_the_stage()
    {
        Enquiry enquiry = Ready(Locked);
        Verdict verdict = Judge(enquiry);
        Bench.Commit("A. Tester", null, EnquiryJudgement.Keep(enquiry, verdict, s_noon));
        Assert.Equal(VerdictJson.Write(verdict), VerdictJson.Write(EnquiryJudgement.Stored(Bench, "E-1")!));
        Assert.True(Bench.FindEnquiry("E-1")!.StagesUtc.ContainsKey(EnquiryStage.Judged));
    }

    [Fact]
    public void An_amended_rule_is_said_first()
    {
        Verdict verdict = Judge(Ready(e => Locked(e) with { Amendments = [new(s_noon.AddHours(1), "A. Tester", "a bar cracked in sawing", s_rule, s_rule, "a", "b")] }));
        Assert.StartsWith("The rule was changed after it was locked", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Equal("amended", verdict.Rule.Standing);
    }

    [Fact]
    public void A_rule_locked_after_the_readings_is_said_first_and_nothing_was_agreed_before_testing()
    {
        Ready();
        Enquiry locked = new SetRule(Bench).Lock("E-1", Hand).Value!;
        Verdict verdict = Judge(locked);
        Assert.StartsWith("The rule was locked on ", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Contains("when coupons had been read already: it was not fixed before looking.", verdict.Finding.Warning, StringComparison.Ordinal);
        Assert.DoesNotContain("agreed before testing", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Equal("locked late", verdict.Rule.Standing);
    }

    // Who is a newcomer is fixed with the rule: a second heat of its source, tested later, does not make it an incumbent.
    [Fact]
    public void The_lock_keeps_who_is_a_newcomer()
    {
        Enquiry ready = Ready();
        Bench.Commit("A. Tester", "sources", [.. ready.ReferenceHeats.Concat(ready.CandidateHeats).Select(h => new BenchChange.PutHeat(Bench.Heats().First(x => x.Name == h) with { Source = h == "K17" ? "Nord" : "Sued" })), .. Tested("K16", "Nord")]);
        Enquiry locked = new SetRule(Bench).Lock("E-1", Hand).Value!;
        Assert.Equal((1, 0), (locked.Lock!.OtherHeatsOfReference, locked.Lock.OtherHeatsOfCandidate));
        Bench.Commit("A. Tester", null, [.. Tested("M04", "Sued")]);
        Assert.Equal([1, 0], Judge(Bench.FindEnquiry("E-1")!).Lots.Select(l => l.OtherHeatsOfSource));
        Enquiry changed = new ChooseHeats(Bench).Run(new("E-1", ["K16"], ["M03"], [], "the wrong bar was sawn"), Hand).Value!;
        Assert.Null(changed.Lock!.OtherHeatsOfReference);
    }

    private static IEnumerable<BenchChange> Tested(string heat, string source) =>
    [
        new BenchChange.PutHeat(new Heat(heat, source, null, null)), new BenchChange.PutCoupon(new(heat, "c1", "L", "unnotched 7×10×55")),
        new BenchChange.PutReading(new(new(heat, "c1"), "impact energy", 1, CensoredValue.Of(40, "J"))),
    ];

    // Treatments of a bench are their set values: two names of one recipe are one level, and the temper family comes with them.
    [Fact]
    public void A_temper_ladder_of_the_bench_is_judged_at_equal_hardness()
    {
        Treatment Temper(string name, double celsius) => new(name, [new TreatmentStep.Austenitize(1030, 20), new TreatmentStep.Quench("oil", 60), new TreatmentStep.Temper(celsius, 120)]);
        List<BenchChange> changes = [new BenchChange.PutTreatment(Temper("soft", 220)), new BenchChange.PutTreatment(Temper("hard", 180)), new BenchChange.PutTreatment(Temper("hard, house name", 180))];
        foreach ((string heat, double factor) in new[] { ("K17", 1.0), ("M03", 1.04) })
            for (int i = 0; i < 6; i++)
            {
                bool soft = i >= 3;
                CouponKey key = new(heat, $"L{i + 1}");
                changes.Add(new BenchChange.PutCoupon(new(heat, key.Coupon, "L", "unnotched 7×10×55", soft ? "soft" : heat == "K17" ? "hard" : "hard, house name")));
                changes.Add(new BenchChange.PutReading(new(key, "hardness", 1, CensoredValue.Of((soft ? 60.2 : 62.1) + i % 3 * 0.2, "HRC"))));
                changes.Add(new BenchChange.PutReading(new(key, "impact energy", 1, CensoredValue.Of(Math.Round((soft ? 36 : 30 + i % 3 * 1.5) * factor, 1), "J"), TestTemperatureK: 296.15)));
            }
        Enquiry enquiry = new() { Name = "E-2", Title = "At equal hardness?", ReferenceHeats = ["K17"], CandidateHeats = ["M03"], Rule = s_rule with { Estimand = Estimand.EqualHardness }, Coupons = [.. changes.OfType<BenchChange.PutCoupon>().Select(c => c.Coupon.Key)] };
        Bench.Commit("A. Tester", "a ladder", [.. changes, new BenchChange.PutEnquiry(enquiry)]);
        Verdict verdict = Judge(Bench.FindEnquiry("E-2")!);
        Assert.Equal(Outcome.Equivalent, verdict.Finding.Outcome);
        Assert.Equal([3, 3, 3, 3], verdict.EqualHardness!.Ladder!.Levels.Select(l => l.N));
        Assert.Equal(Reason.StrataDiffer, verdict.AsTested!.Refused);
    }

    [Theory]
    [InlineData(-1, 5)]
    [InlineData(1, 6)]
    public void Only_an_exclusion_before_the_key_was_opened_counts(int hours, int coupons)
    {
        Verdict verdict = Judge(Ready(e => Locked(e) with
        {
            Key = new(s_noon.AddHours(-5), s_noon.AddHours(-2), s_noon),
            Exclusions = [new(new("K17", "c1"), "mis-strike or wrong support", "jammed against the anvil", s_noon.AddHours(hours), "A. Tester")],
        }));
        Assert.Equal(coupons, verdict.Lots[0].N);
        Assert.Single(verdict.LeftOut);
    }

    [Fact]
    public void An_instrument_outside_its_verification_stops_the_verdict()
    {
        Enquiry enquiry = Ready(Locked);
        Bench.Commit("A. Tester", null, [new BenchChange.PutVerification(new("pendulum 1", new(2024, 4, 1), new(2025, 4, 1), true))]);
        Assert.Equal(Reason.InstrumentNotVerified, Judge(enquiry).Finding.Reason);
        Bench.Commit("A. Tester", null, [new BenchChange.PutVerification(new("pendulum 1", new(2026, 4, 1), new(2027, 4, 1), true))]);
        Assert.Equal(Outcome.Equivalent, Judge(enquiry).Finding.Outcome);
    }

    // Each property has its own test: an energy that is invalid takes no hardness away, and an instrument of one does not stop the other.
    [Fact]
    public void Every_property_of_a_rule_has_its_own_state_of_the_coupon()
    {
        OtherProperty hardness = new("hardness", new Margin.Absolute(1, "HRC")), austenite = new("retained austenite", new Margin.Absolute(2, "vol%"));
        Enquiry enquiry = Ready(e => Locked(e with { Rule = s_rule with { FurtherPrimaries = [hardness], Secondaries = [austenite] } }));
        List<BenchChange> changes = [new BenchChange.PutReading(new(new("K17", "c2"), "impact energy", 1, CensoredValue.Of(44, "J"), "pendulum 1", TestTemperatureK: 296.15, ReadOn: new(2026, 5, 5), State: CouponState.Invalid, Cause: "jammed in the machine"))];
        foreach ((string heat, double add) in new[] { ("K17", 0.0), ("M03", 0.2) })
            for (int i = 0; i < 6; i++) changes.Add(new BenchChange.PutReading(new(new(heat, $"c{i + 1}"), "hardness", 1, CensoredValue.Of(61.4 + i % 3 * 0.2 + add, "HRC"))));
        Bench.Commit("A. Tester", "readings of other properties", changes);
        Verdict verdict = Judge(Bench.FindEnquiry("E-1")!);
        Assert.Equal(5, verdict.Lots[0].N);
        Assert.Equal(6, verdict.OtherProperties![0].Lots[0].N);
        Assert.Equal((Outcome.Equivalent, Reason.TooFew), (verdict.Finding.Outcome, verdict.OtherProperties[1].Reason));
        Assert.Equal(RuleText.Digest(enquiry.Rule!), verdict.Rule.Digest);
    }

    [Fact]
    public void A_check_that_failed_before_stops_the_verdict_and_one_that_failed_after_is_said()
    {
        Enquiry enquiry = Ready(Locked);
        Bench.Commit("A. Tester", null, [new BenchChange.PutVerification(new("pendulum 1", new(2026, 1, 1), new(2027, 1, 1), true)), new BenchChange.PutVerification(new("pendulum 1", new(2026, 7, 1), new(2026, 7, 1), false))]);
        Verdict after = Judge(enquiry);
        Assert.Equal(Outcome.Equivalent, after.Finding.Outcome);
        Assert.Contains("12 readings of impact energy in doubt: pendulum 1, 2026-05-05; the next verification, of 2026-07-01, failed.", after.Notes);

        Bench.Commit("A. Tester", null, [new BenchChange.PutVerification(new("pendulum 1", new(2026, 5, 1), new(2026, 5, 1), false))]);
        Verdict before = Judge(enquiry);
        Assert.Equal(Reason.InstrumentNotVerified, before.Finding.Reason);
        Assert.Contains("pendulum 1 on 2026-05-05 (the verification of 2026-05-01 failed)", before.Finding.Text + before.Finding.Missing, StringComparison.Ordinal);
    }

    [Fact]
    public void A_history_that_changed_since_the_lock_is_said()
    {
        Verdict verdict = Judge(Ready(e => Locked(e with { Rule = s_rule with { HistoryDigest = new string('0', 64) } })));
        Assert.Contains(verdict.Notes, n => n.StartsWith("The history has changed since the rule was locked", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_rule_or_heats_it_says_what_to_do()
    {
        Assert.Contains("has no rule yet", Assert.Throws<ComparisonFaultException>(() => Judge(Ready(e => e with { Rule = null }))).Message, StringComparison.Ordinal);
        Assert.Contains("does not yet name a heat in both roles", Assert.Throws<ComparisonFaultException>(() => Judge(Ready(e => e with { CandidateHeats = [] }))).Message, StringComparison.Ordinal);
    }
}
