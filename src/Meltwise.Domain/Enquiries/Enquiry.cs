namespace Meltwise.Domain;

/// <summary>How far an enquiry has come.</summary>
public enum EnquiryStage
{
    /// <summary>The question is written, the rule open.</summary>
    Asked,

    /// <summary>The rule is locked and the plan made.</summary>
    Planned,

    /// <summary>The coupons are heat treated.</summary>
    Treated,

    /// <summary>The readings are in.</summary>
    Tested,

    /// <summary>A verdict was given.</summary>
    Judged,

    /// <summary>A report was issued.</summary>
    Reported,
}

/// <summary>A client's question with its decision rule, the roles of its heats and the stamps of its stages.</summary>
public sealed record Enquiry
{
    /// <summary>Short name, unique: <c>E-118</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The question as the client would put it.</summary>
    public required string Title { get; init; }

    /// <summary>Who asked; private to the bench.</summary>
    public string? Client { get; init; }

    /// <summary>Who pays for the work; printed in the report.</summary>
    public string? PaidBy { get; init; }

    /// <summary>What the answer will be used for.</summary>
    public string? Purpose { get; init; }

    /// <summary>Heats in the reference role.</summary>
    public IReadOnlyList<string> ReferenceHeats { get; init; } = [];

    /// <summary>Heats in the candidate role.</summary>
    public IReadOnlyList<string> CandidateHeats { get; init; } = [];

    /// <summary>Coupons of those heats that belong to this enquiry (its coupons are judged, other coupons of the heats are not); empty means all of them.</summary>
    public IReadOnlyList<CouponKey> Coupons { get; init; } = [];

    /// <summary>The rule as it stands; null while not written.</summary>
    public DecisionRule? Rule { get; init; }

    /// <summary>The lock of the rule; null while open.</summary>
    public RuleLock? Lock { get; init; }

    /// <summary>Changes of the rule after the lock, oldest first.</summary>
    public IReadOnlyList<Amendment> Amendments { get; init; } = [];

    /// <summary>The blind key; null when lots were not under code.</summary>
    public BlindKey? Key { get; init; }

    /// <summary>Coupons a person set aside, with cause and stamp.</summary>
    public IReadOnlyList<Exclusion> Exclusions { get; init; } = [];

    /// <summary>What is asked of its pictures; null while nothing is.</summary>
    public StructureQuestion? Structure { get; init; }

    /// <summary>Stages reached, with the instant.</summary>
    public IReadOnlyDictionary<EnquiryStage, DateTime> StagesUtc { get; init; } = new Dictionary<EnquiryStage, DateTime>();

    /// <summary>Whom it waits on, in words; null when on nobody.</summary>
    public string? WaitsOn { get; init; }

    /// <summary>Who did which part of the work.</summary>
    public IReadOnlyList<PartOfWork> Work { get; init; } = [];

    /// <summary>Who authorises the report; private to the bench, printed in its full version.</summary>
    public string? Authoriser { get; init; }

    /// <summary>Interests that might bear on the result, or that there are none, in words; null when nobody was asked.</summary>
    public string? ConflictsOfInterest { get; init; }

    /// <summary>Deviations from the methods followed, or that there were none, in words; null when not recorded.</summary>
    public string? Deviations { get; init; }

    /// <summary>Free text.</summary>
    public string? Notes { get; init; }
}

/// <summary>Stamp of a locked rule.</summary>
/// <param name="AtUtc">When.</param>
/// <param name="By">Who.</param>
/// <param name="Digest">SHA-256 of the rule's canonical text, hexadecimal.</param>
public sealed record RuleLock(DateTime AtUtc, string By, string Digest)
{
    /// <summary>Other heats of the reference's source that the bench had tested then; 0 makes it a newcomer. Null when its source is not known or not one, when the heats were changed since, and in locks of before.</summary>
    public int? OtherHeatsOfReference { get; init; }

    /// <summary>The same of the candidate's source.</summary>
    public int? OtherHeatsOfCandidate { get; init; }

    /// <summary>True when coupons of the enquiry had been read for a primary property by then, so that the rule was not fixed before looking.</summary>
    public bool AfterReadings { get; init; }
}

/// <summary>A change of a locked rule: both rules stay readable.</summary>
/// <param name="AtUtc">When.</param>
/// <param name="By">Who.</param>
/// <param name="Reason">Why.</param>
/// <param name="Was">The rule before.</param>
/// <param name="Became">The rule after.</param>
/// <param name="DigestBefore">Digest of the rule before.</param>
/// <param name="DigestAfter">Digest of the rule after.</param>
public sealed record Amendment(DateTime AtUtc, string By, string Reason, DecisionRule Was, DecisionRule Became, string DigestBefore, string DigestAfter);

/// <summary>Stamps of a blind key: sealed, readings locked, opened. Only an exclusion stamped before the opening enters the verdict.</summary>
/// <param name="SealedAtUtc">When codes were given out.</param>
/// <param name="ReadingsLockedAtUtc">When the readings were locked; null while open.</param>
/// <param name="OpenedAtUtc">When the key was opened; null while sealed.</param>
public sealed record BlindKey(DateTime SealedAtUtc, DateTime? ReadingsLockedAtUtc = null, DateTime? OpenedAtUtc = null);

/// <summary>A coupon set aside for a physical cause.</summary>
/// <param name="Coupon">The coupon.</param>
/// <param name="Cause">A cause from <see cref="ExclusionCauses"/>.</param>
/// <param name="Note">What was seen.</param>
/// <param name="AtUtc">When.</param>
/// <param name="By">Who.</param>
public sealed record Exclusion(CouponKey Coupon, string Cause, string Note, DateTime AtUtc, string By);

/// <summary>Physical causes for setting a coupon aside. Common practice, after the invalidity rules of ASTM E23 and E18 (from memory).</summary>
public static class ExclusionCauses
{
    /// <summary>The list.</summary>
    public static IReadOnlyList<string> All { get; } =
    [
        "quench crack or old flaw on the fracture", "decarburised surface", "grinding burn", "dimension out of limits", "mis-strike or wrong support",
        "jammed in the machine", "wrong treatment or load", "mixed-up identity", "instrument out of verification", "other physical cause",
    ];
}
