using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>The steps of an enquiry that the sheet takes: each gives its new state, to be stored.</summary>
internal static class EnquirySteps
{
    /// <summary>The rule written down while it is open.</summary>
    public static Enquiry WriteRule(Enquiry enquiry, DecisionRule rule) => enquiry with { Rule = rule };

    /// <summary>The rule locked.</summary>
    public static Enquiry Lock(Enquiry enquiry, string by, DateTime nowUtc) => enquiry with
    {
        Lock = new RuleLock(nowUtc, by, Digest(enquiry.Rule!)),
        StagesUtc = Stages.Reached(enquiry, EnquiryStage.Planned, nowUtc),
    };

    /// <summary>The locked rule changed, both kept.</summary>
    public static Enquiry Amend(Enquiry enquiry, DecisionRule rule, string reason, string by, DateTime nowUtc) => enquiry with
    {
        Rule = rule,
        Amendments = [.. enquiry.Amendments, new Amendment(nowUtc, by, reason, enquiry.Rule!, rule, Digest(enquiry.Rule!), Digest(rule))],
    };

    private static string Digest(DecisionRule rule) => Casework.Asking.RuleText.Digest(rule);

    /// <summary>Readings locked, then the key opened.</summary>
    public static Enquiry MoveKey(Enquiry enquiry, DateTime nowUtc) => enquiry with
    {
        Key = enquiry.Key!.ReadingsLockedAtUtc is null ? enquiry.Key with { ReadingsLockedAtUtc = nowUtc } : enquiry.Key with { OpenedAtUtc = nowUtc },
    };

    /// <summary>A coupon set aside.</summary>
    public static Enquiry Exclude(Enquiry enquiry, CouponKey coupon, string cause, string note, string by, DateTime nowUtc) =>
        enquiry with { Exclusions = [.. enquiry.Exclusions, new Exclusion(coupon, cause, note, nowUtc, by)] };
}
