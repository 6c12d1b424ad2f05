using Meltwise.Domain;

namespace Meltwise.Web.Heats;

/// <summary>The states of a coupon in words.</summary>
internal static class CouponStates
{
    public static string Say(CouponState state) => state switch
    {
        CouponState.Invalid => "invalid",
        CouponState.Excluded => "excluded",
        CouponState.NotBroken => "not broken",
        CouponState.NotDone => "not done",
        _ => "valid",
    };
}
