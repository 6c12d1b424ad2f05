using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>What an invented enquiry records beside its readings: custody of the bars, places of the coupons in them, fracture origins of the weakest, people. No value is drawn and none depends on it.</summary>
internal static class DemonstrationCircumstances
{
    private const int Examined = 3;

    // Kind, size in µm and distance from the surface in µm of an invented origin, from the weakest coupon up.
    private static readonly (OriginKind Kind, double? SizeUm, double? FromSurfaceUm)[] s_origins = [(OriginKind.Inclusion, 34, 210), (OriginKind.CarbideCluster, 27, 0), (OriginKind.NoneSeen, null, null)];

    /// <summary>Work, authoriser and interests of every invented enquiry.</summary>
    public static IReadOnlyList<PartOfWork> Work { get; } =
        [new("heat treatment, hardness, impact tests", DemonstrationBench.Author), new("carbon, sulfur, oxygen, nitrogen", "gas laboratory", IsOutside: true), new("other elements", "metal laboratory", IsOutside: true)];

    /// <summary>The changes with places, origins and custody added.</summary>
    /// <param name="changes">Heats, coupons and readings of the enquiry.</param>
    public static IEnumerable<BenchChange> Added(IReadOnlyList<BenchChange> changes)
    {
        string[] codes = [.. changes.OfType<BenchChange.PutCoupon>().Select(c => c.Coupon.Code ?? "").Order(StringComparer.Ordinal)];
        foreach (BenchChange change in changes)
        {
            yield return change is BenchChange.PutCoupon { Coupon: var coupon } ? new BenchChange.PutCoupon(Placed(coupon, codes)) : change;
            if (change is BenchChange.PutHeat { Heat: var heat }) yield return new BenchChange.PutCustody(Kept(heat));
        }
        foreach (FractureOrigin origin in Origins(changes)) yield return new BenchChange.PutFractureOrigin(origin);
    }

    private static Coupon Placed(Coupon coupon, string[] codes) => coupon with
    {
        Position = $"slice {coupon.Name}, mid-radius",
        HardnessMoment = HardnessMoment.BeforeTest,
        HardnessOrder = Array.IndexOf(codes, coupon.Code ?? "") + 1,
    };

    private static Custody Kept(Heat heat) => new(
        heat.Name, $"{heat.Source}, by carrier", DemonstrationBench.Author, "bar 32 mm × 900 mm, 5.9 kg", $"{heat.Name} stamped on one end, the other sawn", $"invented certificate {heat.Name}", heat.Received?.AddDays(-6),
        "300 mm of the bar, all halves", heat.Received?.AddYears(5), "Invented.");

    private static IEnumerable<FractureOrigin> Origins(IReadOnlyList<BenchChange> changes) =>
        changes.OfType<BenchChange.PutReading>().Select(r => r.Reading).Where(r => r.Property == "impact energy").GroupBy(r => r.Coupon.Heat)
            .SelectMany(lot => lot.OrderBy(r => r.Typed.Value).Take(Examined).Select((r, i) => new FractureOrigin(
                r.Coupon, s_origins[i].Kind, s_origins[i].SizeUm, s_origins[i].FromSurfaceUm, "stereo microscope 40×", string.Create(CultureInfo.InvariantCulture, $"invented; number {i + 1} from the lowest"))));
}
