using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>Writes the decision rule, locks it, and amends it visibly afterwards.</summary>
public sealed class SetRule(IBench bench)
{
    /// <summary>Writes the rule while it is open.</summary>
    public Outcome<Enquiry> Write(string enquiry, DecisionRule rule, Hand hand) => EnquiryStep.On(bench, enquiry, hand, "rule written", (e, _) =>
        e.Lock is not null
            ? EnquiryStep.Against($"The rule of {e.Name} is locked since {Day(e.Lock.AtUtc)}. It can be amended with a reason; both rules stay readable.")
            : (e with { Rule = rule }, [.. RuleFindings.Of(rule)]));

    /// <summary>Locks the rule: stamps time, person and digest, and fixes the history by its digest.</summary>
    public Outcome<Enquiry> Lock(string enquiry, Hand hand) => EnquiryStep.On(bench, enquiry, hand, "rule locked", (e, now) =>
    {
        if (e.Lock is not null) return EnquiryStep.Against($"The rule of {e.Name} is locked already, since {Day(e.Lock.AtUtc)}.");
        if (e.Rule is null) return EnquiryStep.Against($"{e.Name} has no rule to lock. Write property, margin and question first.");
        if (e.ReferenceHeats.Count == 0 || e.CandidateHeats.Count == 0) return EnquiryStep.Against($"{e.Name} has no heat in the {(e.ReferenceHeats.Count == 0 ? "reference" : "candidate")} role. Choose the heats first.");
        DecisionRule rule = e.Rule with { HistoryDigest = HistoryDigest.Of(bench, e) };
        List<Finding> findings = [.. RuleFindings.Of(rule)];
        string[] read = [.. (rule.FurtherPrimaries ?? []).Select(p => p.Property).Prepend(rule.Property).Where(p => HasReadings(e, p))];
        foreach (string property in read)
            findings.Add(Finding.Warning($"Coupons of these heats were read for {property} before the lock. The verdict will say that the rule was not fixed before looking."));
        RuleLock stamp = new(now, hand.By, RuleText.Digest(rule))
        {
            OtherHeatsOfReference = OtherHeats(e, rule.Property, e.ReferenceHeats),
            OtherHeatsOfCandidate = OtherHeats(e, rule.Property, e.CandidateHeats),
            AfterReadings = read.Length > 0,
        };
        Enquiry locked = e with { Rule = rule, Lock = stamp, StagesUtc = ReachStage.With(e, EnquiryStage.Planned, now) };
        return (locked, findings);
    });

    /// <summary>Changes a locked rule; the old one, both digests and the reason stay readable.</summary>
    public Outcome<Enquiry> Amend(string enquiry, DecisionRule rule, string reason, Hand hand) => EnquiryStep.On(bench, enquiry, hand, reason, (e, now) =>
    {
        if (e.Lock is null || e.Rule is null) return EnquiryStep.Against($"The rule of {e.Name} is not locked; it can simply be written.");
        if (string.IsNullOrWhiteSpace(reason)) return EnquiryStep.Against("An amendment needs its reason; it is printed beside the verdict.");
        (string before, string after) = (RuleText.Digest(e.Rule), RuleText.Digest(rule));
        if (before == after) return EnquiryStep.Against("The rule is the same as before; nothing was amended.");
        Amendment amendment = new(now, hand.By, reason, e.Rule, rule, before, after);
        return (e with { Rule = rule, Amendments = [.. e.Amendments, amendment] },
            [.. RuleFindings.Of(rule), Finding.Warning("The verdict will say in its first line that the rule was changed after the lock.")]);
    });

    /// <summary>Other heats of the source that are tested for the property: with none the source is a newcomer to the bench.</summary>
    private int? OtherHeats(Enquiry e, string property, IReadOnlyList<string> heats)
    {
        string?[] sources = [.. bench.Heats().Where(h => heats.Contains(h.Name)).Select(h => h.Source).Distinct(StringComparer.OrdinalIgnoreCase)];
        if (sources is not [{ } source]) return null;
        return bench.CouponTable(new(Property: property)).Rows.Where(r => string.Equals(r.Source, source, StringComparison.OrdinalIgnoreCase)).Select(r => r.Heat)
            .Distinct(StringComparer.Ordinal).Count(h => !e.ReferenceHeats.Contains(h) && !e.CandidateHeats.Contains(h));
    }

    private bool HasReadings(Enquiry e, string property) => e.ReferenceHeats.Concat(e.CandidateHeats)
        .Any(h => bench.Readings(new(h, "")).Any(r => r.Property == property && (e.Coupons.Count == 0 || e.Coupons.Contains(r.Coupon))));

    private static string Day(DateTime utc) => utc.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
