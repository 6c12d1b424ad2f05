using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>Treatments, coupons and their readings.</summary>
internal static class CouponTables
{
    public static RecordTable<Treatment> Treatments { get; } = new("treatment", "treatment_version", "treatment", 1, ReasonRule.WhenAltered,
        [new("name"), new("steps"), new("set_values"), new("temper_family"), new("notes")],
        t => [t.Name, BenchJson.Write(t.Steps), t.SetValues, t.TemperFamily, t.Notes],
        c =>
        {
            IReadOnlyList<TreatmentStep> steps = BenchJson.Read<IReadOnlyList<TreatmentStep>>((string)c[1]!);
            return new((string)c[0]!, steps, (string?)c[4], steps.OfType<TreatmentStep.Temper>().Any() ? null : (string?)c[3]);
        });

    public static RecordTable<Coupon> Coupons { get; } = new("coupon", "coupon_version", "coupon", 2, ReasonRule.WhenAltered,
        [
            new("heat", RefersTo: "heat"), new("coupon"), new("orientation"), new("geometry"), new("treatment", RefersTo: "treatment"), new("furnace_load"),
            new("test_order", Stored.Integer), new("code"), new("position", CameLater: true), new("hardness_moment", CameLater: true),
            new("hardness_order", Stored.Integer, CameLater: true),
        ],
        k => [k.Heat, k.Name, k.Orientation, k.Geometry, k.Treatment, k.Load, k.Order, k.Code, k.Position, StoredForms.Of(k.HardnessMoment), k.HardnessOrder],
        c => new((string)c[0]!, (string)c[1]!, (string?)c[2], (string?)c[3], (string?)c[4], (string?)c[5], (int?)c[6], (string?)c[7], (string?)c[8],
            StoredForms.ToHardnessMoment((string?)c[9]), (int?)c[10]));

    public static RecordTable<FractureOrigin> FractureOrigins { get; } = new("fracture origin", "fracture_origin_version", null, 2, ReasonRule.WhenAltered,
        [
            new("heat"), new("coupon"), new("origin_kind"), new("size_um", Stored.Real), new("from_surface_um", Stored.Real), new("seen_by"), new("notes"),
        ],
        f => [f.Coupon.Heat, f.Coupon.Coupon, OriginKinds.NameOf(f.Kind), f.SizeUm, f.FromSurfaceUm, f.SeenBy, f.Notes],
        c => new(new((string)c[0]!, (string)c[1]!), OriginKinds.Find((string)c[2]!) ?? OriginKind.Other, (double?)c[3], (double?)c[4], (string?)c[5], (string?)c[6]));

    public static RecordTable<Reading> Readings { get; } = new("reading", "reading_version", null, 4, ReasonRule.Always,
        [
            new("heat"), new("coupon"), new("property"), new("number", Stored.Integer), new("typed_value", Stored.Real), new("unit"), new("censoring"), new("typed"),
            new("instrument", RefersTo: "instrument"), new("session"), new("test_temperature_k", Stored.Real), new("read_at_utc"), new("read_on"), new("state"),
            new("cause"),
        ],
        r =>
        [
            r.Coupon.Heat, r.Coupon.Coupon, r.Property, r.Number, r.Typed.Value, r.Typed.Unit, StoredForms.Of(r.Typed.Censoring), r.Typed.Text, r.Instrument, r.Session,
            r.TestTemperatureK, StoredForms.Instant(r.ReadAtUtc), StoredForms.Day(r.ReadOn), StoredForms.Of(r.State), r.Cause,
        ],
        c => new(new((string)c[0]!, (string)c[1]!), (string)c[2]!, (int)c[3]!,
            new((double)c[4]!, (string)c[5]!, StoredForms.ToCensoring((string)c[6]!), (string)c[7]!), (string?)c[8], (string?)c[9], (double?)c[10],
            StoredForms.ToInstantOrNull(c[11]), StoredForms.ToDayOrNull(c[12]), StoredForms.ToState((string)c[13]!), (string?)c[14]));

    /// <summary>Readings taken back; not versioned, a taking-back is final.</summary>
    public static RecordTable<(CouponKey Coupon, string Property, int Number)> Withdrawals { get; } = new("withdrawal", "withdrawal", null, 4, ReasonRule.Never,
        [new("heat"), new("coupon"), new("property"), new("number", Stored.Integer)],
        w => [w.Coupon.Heat, w.Coupon.Coupon, w.Property, w.Number],
        c => (new((string)c[0]!, (string)c[1]!), (string)c[2]!, (int)c[3]!));
}
