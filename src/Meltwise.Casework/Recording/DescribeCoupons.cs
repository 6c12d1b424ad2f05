using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>What is told of a coupon beside its readings.</summary>
/// <param name="Coupon">The coupon as it should stand.</param>
/// <param name="Origin">Where its fracture began; null leaves what is recorded.</param>
public sealed record DescribedCoupon(Coupon Coupon, FractureOrigin? Origin);

/// <summary>Records where coupons were cut, when their hardness was read and where their fractures began: all of it or nothing.</summary>
public sealed class DescribeCoupons(IBench bench)
{
    // A coupon is at most a few centimetres thick; larger figures are slips of unit. Common practice, no source.
    private const double MostUm = 50_000;

    /// <summary>Stores what differs from the bench.</summary>
    /// <param name="told">The coupons.</param>
    /// <param name="hand">Who.</param>
    /// <param name="why">Reason, needed when something recorded is altered.</param>
    public Outcome<IReadOnlyList<DescribedCoupon>> Run(IReadOnlyList<DescribedCoupon> told, Hand hand, string? why = null)
    {
        HashSet<Coupon> coupons = [.. told.Select(t => t.Coupon.Heat).Distinct().SelectMany(h => bench.Coupons(h))];
        HashSet<FractureOrigin> origins = [.. told.Select(t => t.Coupon.Heat).Distinct().SelectMany(h => bench.FractureOrigins(h))];
        HashSet<CouponKey> keys = [.. coupons.Select(c => c.Key)];
        string[] faults =
        [
            .. told.Where(t => !keys.Contains(t.Coupon.Key)).Select(t => $"Coupon {t.Coupon.Key} is not on this bench."),
            .. told.Select(t => t.Origin).OfType<FractureOrigin>().SelectMany(FaultsOf),
        ];
        if (faults.Length > 0) return Outcome<IReadOnlyList<DescribedCoupon>>.Refused(faults);
        BenchChange[] changes =
        [
            .. told.Where(t => !coupons.Contains(t.Coupon)).Select(t => new BenchChange.PutCoupon(t.Coupon)),
            .. told.Select(t => t.Origin).OfType<FractureOrigin>().Where(o => !origins.Contains(o)).Select(o => new BenchChange.PutFractureOrigin(o)),
        ];
        if (changes.Length == 0) return Outcome<IReadOnlyList<DescribedCoupon>>.Refused("Nothing differs from what is recorded.");
        bench.Commit(hand.By, why, changes);
        return Outcome<IReadOnlyList<DescribedCoupon>>.Stored(told, told.Any(t => t.Origin is { SeenBy: null }) ? [Finding.Note("Nothing says how an origin was seen.")] : []);
    }

    private static IEnumerable<string> FaultsOf(FractureOrigin origin)
    {
        foreach ((string what, double? value) in new[] { ("size", origin.SizeUm), ("distance from the surface", origin.FromSurfaceUm) })
            if (value is { } um && !(um is >= 0 and <= MostUm)) yield return string.Create(CultureInfo.InvariantCulture, $"Coupon {origin.Coupon}: a {what} of {um} µm was given; expected 0 to {MostUm} µm.");
        if (origin is { Kind: OriginKind.NoneSeen } and ({ SizeUm: not null } or { FromSurfaceUm: not null })) yield return $"Coupon {origin.Coupon}: no origin was seen, yet it has a size or a place. Leave them empty, or name the kind.";
        if (origin is { Kind: OriginKind.Other, Notes: null }) yield return $"Coupon {origin.Coupon}: the kind is other, so the notes must say what it was.";
    }
}
