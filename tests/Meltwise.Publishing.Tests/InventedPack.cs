using Meltwise.Domain;
using Meltwise.Publishing.Packs;
using Meltwise.Publishing.Report;

namespace Meltwise.Publishing.Tests;

/// <summary>The invented enquiry as a pack.</summary>
public static class InventedPack
{
    /// <summary>The input.</summary>
    public static PackInput Make()
    {
        ReportInput report = InventedReport.Make();
        List<Coupon> coupons = [];
        List<Reading> readings = [];
        List<FractureOrigin> origins = [];
        List<CouponRow> rows = [];
        foreach (var point in report.Verdict.Lots.SelectMany(l => l.Coupons))
        {
            Coupon coupon = new(point.Heat, point.Coupon, "L", "unnotched 7×10×55", "punch recipe", point.Load, point.Order, point.Coupon, $"slice {coupons.Count + 1}", HardnessMoment.BeforeTest, coupons.Count + 1);
            FractureOrigin? origin = coupons.Count % 5 == 0 ? new(coupon.Key, OriginKind.Inclusion, 20 + coupons.Count, 150, "stereo microscope 40×", $"seen beside {point.Heat}") : null;
            if (origin is not null)
                origins.Add(origin);
            CensoredValue energy = CensoredValue.Of(point.Value, "J"), hardness = CensoredValue.Of(point.Hardness!.Value, "HRC");
            coupons.Add(coupon);
            readings.Add(new(coupon.Key, "impact energy", 1, energy, "big pendulum", TestTemperatureK: 296.15, ReadOn: new(2026, 3, 18)));
            readings.Add(new(coupon.Key, "hardness", 1, hardness, "tester 2"));
            rows.Add(new()
            {
                Heat = point.Heat,
                Coupon = point.Coupon,
                Source = point.Heat == "K17" ? "Northern Foundry" : "Southern Foundry",
                Orientation = "L",
                Geometry = "unnotched 7×10×55",
                TestTemperatureK = 296.15,
                Load = point.Load,
                Order = point.Order,
                Instrument = "big pendulum",
                Date = new(2026, 3, 18),
                Position = coupon.Position,
                HardnessMoment = coupon.HardnessMoment,
                HardnessOrder = coupon.HardnessOrder,
                Fracture = origin,
                Hardness = [hardness],
                Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [energy] },
            });
        }
        HashSet<string> columns = [.. CouponTable.KeyColumns];
        return new(report with { Coupons = coupons, Origins = origins }, readings, new(rows, columns, "the bench"));
    }
}
