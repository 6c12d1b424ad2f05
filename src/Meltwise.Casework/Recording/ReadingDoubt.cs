using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>What is doubtful about a reading.</summary>
public enum DoubtKind
{
    /// <summary>It fits the history better in another unit.</summary>
    UnitSlip,

    /// <summary>It lies far outside what coupons of its kind have given.</summary>
    FarOut,

    /// <summary>It lies above the usable range of its instrument: only a lower bound.</summary>
    AboveRange,

    /// <summary>It lies below the usable range of its instrument.</summary>
    BelowRange,

    /// <summary>It is few steps of the instrument's scale.</summary>
    CoarseScale,

    /// <summary>The hardness readings of its coupon scatter widely.</summary>
    WideIndents,

    /// <summary>Its instrument was not in verification.</summary>
    NotVerified,

    /// <summary>Its instrument has no verification on the bench.</summary>
    NoVerification,
}

/// <summary>A doubt about a stored reading. Nothing is altered for the person; some doubts ask for an answer.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Words">What was noticed, without the name of the coupon, so that a sealed key stays sealed.</param>
/// <param name="OtherUnit">The unit it may have been read in.</param>
/// <param name="AsOther">The figure in the stored unit if it was read in the other one.</param>
/// <param name="StandardDeviation">Standard deviation of the coupon's readings, for <see cref="DoubtKind.WideIndents"/>.</param>
public sealed record ReadingDoubt(DoubtKind Kind, string Words, PropertyUnit? OtherUnit = null, double AsOther = 0, double StandardDeviation = 0)
{
    /// <summary>Cause of a reading that a person was asked about and confirmed; it is not asked about again.</summary>
    public const string Confirmed = "asked and confirmed as read";

    /// <summary>True when a person has to answer before going on.</summary>
    public bool Asks => Kind is DoubtKind.UnitSlip or DoubtKind.FarOut or DoubtKind.AboveRange;

    /// <summary>As a finding of the use case.</summary>
    internal Finding AsFinding => Kind == DoubtKind.NoVerification ? Finding.Note(Words) : Finding.Warning(Words);
}
