namespace Meltwise.Domain;

/// <summary>Standing of a coupon. Invalid, excluded and censored are three different things.</summary>
public enum CouponState
{
    /// <summary>Tested and valid.</summary>
    Valid,

    /// <summary>The method's own rules reject it (jammed, mis-struck, dimension out); the cause names the clause.</summary>
    Invalid,

    /// <summary>A person set it aside for a physical cause, with a note; shown with and without.</summary>
    Excluded,

    /// <summary>The coupon did not break; its energy is a lower bound.</summary>
    NotBroken,

    /// <summary>Planned, no result.</summary>
    NotDone,
}
