using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>All that a verdict is made from.</summary>
public sealed record ComparisonInput
{
    /// <summary>Coupons of the lots. Rows of heats in neither role are not used and are counted.</summary>
    public required CouponTable Lots { get; init; }

    /// <summary>Everything tested before; rows of the lots' heats are left out of it. Null when there is none.</summary>
    public CouponTable? History { get; init; }

    /// <summary>The rule.</summary>
    public required DecisionRule Rule { get; init; }

    /// <summary>Heats in the reference role.</summary>
    public required IReadOnlyList<string> ReferenceHeats { get; init; }

    /// <summary>Heats in the candidate role.</summary>
    public required IReadOnlyList<string> CandidateHeats { get; init; }

    /// <summary>Whether the rule was fixed before looking.</summary>
    public RuleStanding Standing { get; init; } = new RuleStanding.BareTable();

    /// <summary>True when the bench's history is no longer the one that the rule was locked with.</summary>
    public bool HistoryChangedSinceLock { get; init; }

    /// <summary>Other heats of the reference's source that were tested when the rule was locked; null where the lock does not say, and then they are counted in the history.</summary>
    public int? OtherHeatsOfReferenceAtLock { get; init; }

    /// <summary>The same of the candidate's source.</summary>
    public int? OtherHeatsOfCandidateAtLock { get; init; }

    /// <summary>Instruments that had no valid verification on the day of the test, in words; any of them stops the verdict.</summary>
    public IReadOnlyList<string> UnverifiedInstruments { get; init; } = [];

    /// <summary>What the verifications leave open about readings of the enquiry, in sentences; said among the notes of the verdict.</summary>
    public IReadOnlyList<string> InstrumentNotes { get; init; } = [];

    /// <summary>What the bench's own checks tell of the scatter of hardness between sessions; null when they tell nothing. Said beside the verdict, never applied.</summary>
    public SessionScatter? HardnessSessions { get; init; }

    /// <summary>Grades of the family that the rule names for the trend; used only with <see cref="DecisionRule.TrendFamily"/>. Empty: any grade of the history.</summary>
    public IReadOnlyList<string> TrendGrades { get; init; } = [];

    /// <summary>Tables of the rule's other properties, by name, where they are not the same ones; on a bench the state of a coupon is that of the property's own test.</summary>
    public IReadOnlyDictionary<string, PropertyTables> OtherTables { get; init; } = new Dictionary<string, PropertyTables>();

    /// <summary>True for a property that is judged beside the first one of a rule: in few words, without what is shown only.</summary>
    internal bool IsBeside { get; init; }

    /// <summary>Ratios of earlier locked enquiries on this property, for question D; empty when none.</summary>
    public IReadOnlyList<EarlierPair> EarlierPairs { get; init; } = [];
}

/// <summary>What one property is judged from.</summary>
/// <param name="Lots">Coupons of the lots.</param>
/// <param name="History">Everything tested before; null when there is none.</param>
/// <param name="UnverifiedInstruments">Instruments that had no valid verification on the day of its test, in words.</param>
public sealed record PropertyTables(CouponTable Lots, CouponTable? History, IReadOnlyList<string> UnverifiedInstruments);

/// <summary>Whether the rule was fixed before looking. A closed set.</summary>
public abstract record RuleStanding
{
    private RuleStanding() { }

    /// <summary>Locked before the readings, unchanged since.</summary>
    /// <param name="AtUtc">When.</param>
    /// <param name="Digest">SHA-256 of the rule's canonical text.</param>
    public sealed record Locked(DateTime AtUtc, string Digest) : RuleStanding;

    /// <summary>Locked when coupons had been read already, unchanged since.</summary>
    /// <param name="AtUtc">When.</param>
    /// <param name="Digest">SHA-256 of the rule's canonical text.</param>
    public sealed record LockedLate(DateTime AtUtc, string Digest) : RuleStanding;

    /// <summary>An enquiry whose rule is not locked.</summary>
    public sealed record Unlocked : RuleStanding;

    /// <summary>Locked and changed later.</summary>
    /// <param name="LockedAtUtc">When it was locked.</param>
    /// <param name="AmendedAtUtc">When it was changed last.</param>
    /// <param name="Digest">Digest of the rule as it stands.</param>
    /// <param name="Reason">The reason of the last change.</param>
    /// <param name="Changes">Number of changes.</param>
    public sealed record Amended(DateTime LockedAtUtc, DateTime AmendedAtUtc, string Digest, string Reason, int Changes) : RuleStanding;

    /// <summary>A table from the command line: nothing is stamped.</summary>
    public sealed record BareTable : RuleStanding;
}

/// <summary>The effect that one earlier locked enquiry found.</summary>
/// <param name="Enquiry">Its name.</param>
/// <param name="CandidateSource">Source of its candidate.</param>
/// <param name="ReferenceSource">Source of its reference.</param>
/// <param name="CandidateHeat">Heat or heats of its candidate.</param>
/// <param name="ReferenceHeat">Heat or heats of its reference.</param>
/// <param name="LogRatio">ln(candidate/reference), at equal hardness where that was not refused.</param>
/// <param name="Variance">Its variance.</param>
/// <param name="CandidateVariance">The candidate lot's part of it, shared with other pairs of the same lot.</param>
/// <param name="ReferenceVariance">The reference lot's part of it.</param>
/// <param name="AtEqualHardness">Whether the effect is at equal hardness.</param>
public sealed record EarlierPair(
    string Enquiry, string? CandidateSource, string? ReferenceSource, string CandidateHeat, string ReferenceHeat,
    double LogRatio, double Variance, double CandidateVariance, double ReferenceVariance, bool AtEqualHardness)
{
    /// <summary>Route of its candidate; null when unknown or mixed.</summary>
    public string? CandidateRoute { get; init; }

    /// <summary>Route of its reference.</summary>
    public string? ReferenceRoute { get; init; }

    /// <summary>True when the bench had tested no other heat of the candidate's source when the rule was locked; null when that is not known.</summary>
    public bool? CandidateIsNewcomer { get; init; }

    /// <summary>The same of the reference.</summary>
    public bool? ReferenceIsNewcomer { get; init; }

    /// <summary>The pair with its roles swapped.</summary>
    public EarlierPair Turned() => new(Enquiry, ReferenceSource, CandidateSource, ReferenceHeat, CandidateHeat, -LogRatio, Variance, ReferenceVariance, CandidateVariance, AtEqualHardness)
    {
        CandidateRoute = ReferenceRoute,
        ReferenceRoute = CandidateRoute,
        CandidateIsNewcomer = ReferenceIsNewcomer,
        ReferenceIsNewcomer = CandidateIsNewcomer,
    };
}

/// <summary>The comparison cannot be set up: a heat that is not there, a margin that does not fit the property, a reading that cannot be one. The message is fit for a reader.</summary>
public sealed class ComparisonFaultException(string message) : Exception(message);
