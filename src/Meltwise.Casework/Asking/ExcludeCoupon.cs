using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>What is seen on a coupon that a person sets aside.</summary>
/// <param name="Enquiry">Name of the enquiry.</param>
/// <param name="Coupon">The coupon.</param>
/// <param name="Cause">A cause from <see cref="ExclusionCauses"/>.</param>
/// <param name="Note">What was seen.</param>
public sealed record SettingAside(string Enquiry, CouponKey Coupon, string Cause, string Note);

/// <summary>Sets a coupon aside for a physical cause, and takes it back. Nothing is dropped by a test; both outcomes are always shown.</summary>
public sealed class ExcludeCoupon(IBench bench)
{
    /// <summary>Sets the coupon aside.</summary>
    public Outcome<Enquiry> Run(SettingAside aside, Hand hand) => EnquiryStep.On(bench, aside.Enquiry, hand, $"{aside.Coupon} excluded: {aside.Cause}", (e, now) =>
    {
        if (!ExclusionCauses.All.Contains(aside.Cause)) return EnquiryStep.Against($"\"{aside.Cause}\" is no physical cause of the list: {string.Join("; ", ExclusionCauses.All)}.");
        if (string.IsNullOrWhiteSpace(aside.Note)) return EnquiryStep.Against("Write what was seen on the coupon.");
        if (!Belongs(e, aside.Coupon)) return EnquiryStep.Against($"Coupon {aside.Coupon} does not belong to {e.Name}.");
        if (e.Exclusions.Any(x => x.Coupon == aside.Coupon)) return EnquiryStep.Against($"Coupon {aside.Coupon} is excluded already.");
        Finding[] findings = e.Key?.OpenedAtUtc is null ? [] : [Finding.Warning("The key is open: this exclusion is shown beside the verdict and does not change it.")];
        return (e with { Exclusions = [.. e.Exclusions, new(aside.Coupon, aside.Cause, aside.Note, now, hand.By)] }, findings);
    });

    /// <summary>Takes an exclusion back, with a reason; the trail keeps it.</summary>
    public Outcome<Enquiry> TakeBack(string enquiry, CouponKey coupon, string reason, Hand hand) => EnquiryStep.On(bench, enquiry, hand, reason, (e, _) =>
        string.IsNullOrWhiteSpace(reason) ? EnquiryStep.Against("Give the reason for taking the exclusion back.")
        : e.Exclusions.All(x => x.Coupon != coupon) ? EnquiryStep.Against($"Coupon {coupon} is not excluded.")
        : (e with { Exclusions = [.. e.Exclusions.Where(x => x.Coupon != coupon)] }, []));

    private bool Belongs(Enquiry e, CouponKey coupon) => e.Coupons.Count > 0
        ? e.Coupons.Contains(coupon)
        : e.ReferenceHeats.Concat(e.CandidateHeats).Contains(coupon.Heat) && bench.Coupons(coupon.Heat).Any(c => c.Key == coupon);
}
