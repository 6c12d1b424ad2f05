using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Asking;

public sealed class EnquiryStepsTests : OwnBench
{
    private static readonly DecisionRule s_rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), PlannedCouponsPerLot = 9 };

    private Enquiry Asked()
    {
        Assert.True(new WriteEnquiry(Bench).New(new("E-1", "Is the second source the same steel?", "a client"), Hand).Done);
        Assert.True(new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["M03"], []), Hand).Done);
        Outcome<Enquiry> written = new SetRule(Bench).Write("E-1", s_rule, Hand);
        Assert.True(written.Done, Text(written));
        return written.Value!;
    }

    private Enquiry Locked()
    {
        Asked();
        return new SetRule(Bench).Lock("E-1", Hand).Value!;
    }

    private static void Refused(Outcome<Enquiry> outcome, string because)
    {
        Assert.False(outcome.Done);
        Assert.Contains(because, Text(outcome), StringComparison.Ordinal);
    }

    [Fact]
    public void An_enquiry_is_asked_once_and_stamped()
    {
        Enquiry enquiry = Asked();
        Assert.True(enquiry.StagesUtc.ContainsKey(EnquiryStage.Asked));
        Refused(new WriteEnquiry(Bench).New(new("E-1", "again"), Hand), "already");
        Refused(new WriteEnquiry(Bench).New(new("", ""), Hand), "no name");
        Outcome<Enquiry> changed = new WriteEnquiry(Bench).Change(new("E-1", "Better words", WaitsOn: "the furnace"), Hand);
        Assert.Equal(("Better words", "the furnace"), (changed.Value!.Title, Bench.FindEnquiry("E-1")!.WaitsOn));
        Assert.NotNull(Bench.FindEnquiry("E-1")!.Rule);
        Refused(new WriteEnquiry(Bench).Change(new("E-9", "t"), Hand), "no enquiry E-9");
    }

    [Fact]
    public void Heats_must_exist_and_have_one_role()
    {
        Asked();
        Refused(new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["X9"], []), Hand), "X9 is not on this bench");
        Refused(new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["K17"], []), Hand), "at once");
        Refused(new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["M03"], [new("K17", "77")]), Hand), "K17/77");
        Assert.True(new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["M03"], [new("K17", "1"), new("M03", "2")]), Hand).Done);
    }

    [Fact]
    public void Locking_stamps_time_person_and_digest_and_closes_the_rule()
    {
        Enquiry locked = Locked();
        Assert.Equal("A. Tester", locked.Lock!.By);
        Assert.Equal(RuleText.Digest(locked.Rule!), locked.Lock.Digest);
        Assert.True(locked.StagesUtc.ContainsKey(EnquiryStage.Planned));
        Refused(new SetRule(Bench).Lock("E-1", Hand), "already");
        Refused(new SetRule(Bench).Write("E-1", s_rule with { Alpha = 0.1 }, Hand), "is locked since");
        Refused(new ChooseHeats(Bench).Run(new("E-1", ["M03"], ["K17"], []), Hand), "give the reason");
        Assert.Equal(locked.Rule, Bench.FindEnquiry("E-1")!.Rule);
    }

    [Fact]
    public void A_lock_needs_rule_and_heats_and_warns_when_readings_came_first()
    {
        new WriteEnquiry(Bench).New(new("E-1", "t"), Hand);
        Refused(new SetRule(Bench).Lock("E-1", Hand), "no rule");
        new SetRule(Bench).Write("E-1", s_rule, Hand);
        Refused(new SetRule(Bench).Lock("E-1", Hand), "reference role");
        new ChooseHeats(Bench).Run(new("E-1", ["K17"], ["M03"], []), Hand);
        new TypeReading(Bench).Run(new(new("K17", "1"), "impact energy", 1, "41.2", "J"), Hand);
        Outcome<Enquiry> locked = new SetRule(Bench).Lock("E-1", Hand);
        Assert.Contains(locked.Findings, f => f.Weight == FindingWeight.Warning && f.Text.Contains("before the lock", StringComparison.Ordinal));
    }

    [Fact]
    public void The_lock_fixes_the_history_by_its_digest()
    {
        Bench.Commit("A", null, [new BenchChange.PutHeat(new("H1", "Nord", "AISI M4", "powder")), new BenchChange.PutCoupon(new("H1", "1"))]);
        new TypeReading(Bench).Run(new(new("H1", "1"), "impact energy", 1, "40", "J"), Hand);
        Enquiry locked = Locked();
        Assert.Equal(HistoryDigest.Of(Bench, locked), locked.Rule!.HistoryDigest);
        new TypeReading(Bench).Run(new(new("K17", "1"), "impact energy", 1, "41", "J"), Hand);
        Assert.Equal(HistoryDigest.Of(Bench, locked), locked.Rule.HistoryDigest);
        new TypeReading(Bench).Run(new(new("H1", "1"), "impact energy", 2, "42", "J"), Hand);
        Assert.NotEqual(HistoryDigest.Of(Bench, locked), locked.Rule.HistoryDigest);
    }

    [Fact]
    public void An_amendment_keeps_both_rules_digests_and_the_reason()
    {
        Enquiry locked = Locked();
        DecisionRule wider = locked.Rule! with { Margin = new Margin.Ratio(0.75, 1.333) };
        Refused(new SetRule(Bench).Amend("E-1", wider, " ", Hand), "reason");
        Refused(new SetRule(Bench).Amend("E-1", locked.Rule!, "same", Hand), "the same as before");
        Outcome<Enquiry> amended = new SetRule(Bench).Amend("E-1", wider, "client widened the margin", Hand);
        Amendment amendment = Assert.Single(amended.Value!.Amendments);
        Assert.Equal((locked.Rule, wider), (amendment.Was, amendment.Became));
        Assert.Equal((locked.Lock!.Digest, RuleText.Digest(wider)), (amendment.DigestBefore, amendment.DigestAfter));
        Assert.Equal(locked.Lock, amended.Value.Lock);
        Assert.Equal("client widened the margin", Bench.Trail("enquiry", "E-1")[0].Why);
    }

    [Theory]
    [InlineData("impact energy", 1.1, 1.25, "hold 1 inside")]
    [InlineData("hardness", 0.8, 1.25, "compared by difference")]
    [InlineData("edge retention", 0.8, 1.25, "not in the table of properties")]
    public void A_rule_that_cannot_hold_is_refused(string property, double low, double high, string because)
    {
        new WriteEnquiry(Bench).New(new("E-1", "t"), Hand);
        Refused(new SetRule(Bench).Write("E-1", new() { Property = property, Margin = new Margin.Ratio(low, high) }, Hand), because);
    }

    [Fact]
    public void Other_slips_of_a_rule_are_told()
    {
        new WriteEnquiry(Bench).New(new("E-1", "t"), Hand);
        SetRule set = new(Bench);
        Refused(set.Write("E-1", s_rule with { Margin = new Margin.Absolute(3, "HRC") }, Hand), "J or ft·lbf");
        Refused(set.Write("E-1", s_rule with { Margin = new Margin.Absolute(-3, "J") }, Hand), "above 0");
        Refused(set.Write("E-1", s_rule with { Margin = new Margin.InHardness(0) }, Hand), "above 0");
        Refused(set.Write("E-1", s_rule with { Alpha = 0.6 }, Hand), "below 0.5");
        Refused(set.Write("E-1", s_rule with { Look = 3 }, Hand), "one planned extension");
        Refused(set.Write("E-1", s_rule with { PlannedCouponsPerLot = 2 }, Hand), "at least 3");
        Outcome<Enquiry> few = set.Write("E-1", s_rule with { PlannedCouponsPerLot = 4, Look = 1 }, Hand);
        Assert.Equal([FindingWeight.Note, FindingWeight.Warning], few.Findings.Select(f => f.Weight).Order());
    }

    [Fact]
    public void The_key_is_sealed_locked_and_opened_in_this_order_only()
    {
        Locked();
        KeepKey key = new(Bench);
        Refused(key.LockReadings("E-1", Hand), "no sealed codes");
        Dictionary<CouponKey, string> codes = Bench.Coupons().ToDictionary(c => c.Key, c => $"{c.Heat[0]}{c.Name}");
        Refused(key.Seal("E-1", codes.Skip(1).ToDictionary(), Hand), "has no code");
        Refused(key.Seal("E-1", codes.ToDictionary(c => c.Key, _ => "A1"), Hand), "given twice");
        Assert.True(key.Seal("E-1", codes, Hand).Done);
        Assert.Equal("K1", Bench.Coupons("K17")[0].Code);
        Refused(key.Seal("E-1", codes, Hand), "sealed already");
        Refused(key.Open("E-1", Hand), "Lock the readings");
        Outcome<Enquiry> locked = key.LockReadings("E-1", Hand);
        Assert.Contains("Without a reading: K1", Text(locked), StringComparison.Ordinal);
        Enquiry opened = key.Open("E-1", Hand).Value!;
        Assert.True(opened.Key!.SealedAtUtc < opened.Key.ReadingsLockedAtUtc && opened.Key.ReadingsLockedAtUtc < opened.Key.OpenedAtUtc);
        Refused(key.Open("E-1", Hand), "open already");
    }

    [Fact]
    public void An_exclusion_needs_a_listed_cause_and_a_note_and_says_when_it_comes_too_late()
    {
        Locked();
        ExcludeCoupon exclude = new(Bench);
        SettingAside aside = new("E-1", new("K17", "1"), "grinding burn", "brown band at the edge");
        Refused(exclude.Run(aside with { Cause = "too low" }, Hand), "no physical cause");
        Refused(exclude.Run(aside with { Note = "" }, Hand), "what was seen");
        Refused(exclude.Run(aside with { Coupon = new("K17", "9") }, Hand), "does not belong");
        Assert.Empty(exclude.Run(aside, Hand).Findings);
        Refused(exclude.Run(aside, Hand), "excluded already");
        KeepKey key = new(Bench);
        key.Seal("E-1", Bench.Coupons().ToDictionary(c => c.Key, c => $"{c.Heat[0]}{c.Name}"), Hand);
        key.LockReadings("E-1", Hand);
        key.Open("E-1", Hand);
        Assert.Contains("does not change", Text(exclude.Run(aside with { Coupon = new("M03", "1") }, Hand)), StringComparison.Ordinal);
        Assert.Equal(2, Bench.FindEnquiry("E-1")!.Exclusions.Count);
        Refused(exclude.TakeBack("E-1", new("M03", "1"), "", Hand), "reason");
        Assert.Single(exclude.TakeBack("E-1", new("M03", "1"), "wrong coupon", Hand).Value!.Exclusions);
    }

    [Fact]
    public void Stages_are_stamped_once_and_gaps_are_told()
    {
        Asked();
        ReachStage reach = new(Bench);
        Outcome<Enquiry> tested = reach.Run("E-1", EnquiryStage.Tested, Hand);
        Assert.Contains("\"planned\", \"treated\"", Text(tested), StringComparison.Ordinal);
        Refused(reach.Run("E-1", EnquiryStage.Tested, Hand), "first stamp stays");
    }
}
