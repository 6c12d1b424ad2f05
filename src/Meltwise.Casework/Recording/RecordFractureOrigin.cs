using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Records where the fracture of a coupon began.</summary>
public sealed class RecordFractureOrigin(IBench bench)
{
    // A coupon is at most a few centimetres thick; larger figures are slips of unit. Common practice, no source.
    private const double MostUm = 50_000;

    /// <summary>Adds the origin, or corrects it with a reason.</summary>
    public Outcome<FractureOrigin> Run(FractureOrigin origin, Hand hand, string? why = null)
    {
        string[] faults = [.. FaultsOf(origin)];
        if (faults.Length > 0) return Outcome<FractureOrigin>.Refused(faults);
        bench.Commit(hand.By, why, [new BenchChange.PutFractureOrigin(origin)]);
        return Outcome<FractureOrigin>.Stored(origin, origin.SeenBy is null ? [Finding.Note("Nothing says how the origin was seen.")] : []);
    }

    private IEnumerable<string> FaultsOf(FractureOrigin origin)
    {
        if (bench.Coupons(origin.Coupon.Heat).All(c => c.Key != origin.Coupon)) yield return $"Coupon {origin.Coupon} is not on this bench.";
        foreach ((string what, double? value) in new[] { ("size", origin.SizeUm), ("distance from the surface", origin.FromSurfaceUm) })
            if (value is { } um && !(um is >= 0 and <= MostUm)) yield return string.Create(CultureInfo.InvariantCulture, $"A {what} of {um} µm was given; expected 0 to {MostUm} µm.");
        if (origin is { Kind: OriginKind.NoneSeen } and ({ SizeUm: not null } or { FromSurfaceUm: not null })) yield return "No origin was seen, yet it has a size or a place. Leave them empty, or name the kind.";
        if (origin is { Kind: OriginKind.Other, Notes: null }) yield return "The kind is other: the notes must say what it was.";
    }
}
