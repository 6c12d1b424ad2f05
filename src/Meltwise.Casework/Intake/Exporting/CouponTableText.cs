using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Writes a coupon table as CSV that intake reads back to the same rows.</summary>
/// <remarks>RFC 4180. Text that a spreadsheet would take as a formula (beginning with = + - @) gets an apostrophe, which intake takes off again.</remarks>
public static class CouponTableText
{
    private static readonly (string Name, string Heading, Func<CouponRow, string?> Cell)[] s_keys =
    [
        ("source", "source", r => DelimitedWriter.Safe(r.Source)), ("grade", "grade", r => DelimitedWriter.Safe(r.Grade)), ("route", "route", r => DelimitedWriter.Safe(r.Route)),
        ("orientation", "orientation", r => DelimitedWriter.Safe(r.Orientation)), ("geometry", "geometry", r => DelimitedWriter.Safe(r.Geometry)),
        ("test temperature", "test temperature [°C]", r => r.TestTemperatureK is { } k ? (k - 273.15).ToString("0.######", CultureInfo.InvariantCulture) : null),
        ("treatment", "treatment", r => DelimitedWriter.Safe(r.Treatment)), ("temper family", "temper family", r => r.TemperFamily), ("load", "load", r => DelimitedWriter.Safe(r.Load)),
        ("session", "session", r => DelimitedWriter.Safe(r.Session)), ("order", "order", r => r.Order?.ToString(CultureInfo.InvariantCulture)), ("instrument", "instrument", r => DelimitedWriter.Safe(r.Instrument)),
        ("date", "date", r => r.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)), ("code", "code", r => DelimitedWriter.Safe(r.Code)),
        ("position", "position", r => DelimitedWriter.Safe(r.Position)), ("hardness moment", "hardness moment", r => r.HardnessMoment switch { HardnessMoment.BeforeTest => "before", HardnessMoment.AfterTest => "after", _ => null }),
        ("hardness order", "hardness order", r => r.HardnessOrder?.ToString(CultureInfo.InvariantCulture)), ("fracture origin", "fracture origin", r => r.Fracture is { } f ? OriginKinds.NameOf(f.Kind) : null),
        ("origin size", "origin size [µm]", r => r.Fracture?.SizeUm?.ToString("R", CultureInfo.InvariantCulture)), ("origin from surface", "origin from surface [µm]", r => r.Fracture?.FromSurfaceUm?.ToString("R", CultureInfo.InvariantCulture)),
        ("origin seen by", "origin seen by", r => DelimitedWriter.Safe(r.Fracture?.SeenBy)), ("origin notes", "origin notes", r => DelimitedWriter.Safe(r.Fracture?.Notes)),
        ("state", "state", r => StateName(r.State)), ("cause", "cause", r => DelimitedWriter.Safe(r.Cause)),
    ];

    /// <summary>The line below an exported table of the demonstration; intake keeps such a table off every other bench.</summary>
    public const string InventedNote = "Invented for the demonstration: not to be mixed with real history.";

    /// <summary>Writes heading and rows.</summary>
    /// <param name="table">The coupons.</param>
    /// <param name="to">Where to.</param>
    /// <param name="invented">True for coupons of the demonstration bench: a note below the table says so.</param>
    public static void Write(CouponTable table, TextWriter to, bool invented = false)
    {
        bool states = table.Rows.Any(r => r.State != CouponState.Valid || r.Cause is not null);
        (string Name, string Heading, Func<CouponRow, string?> Cell)[] keys =
            [.. s_keys.Where(k => table.Columns.Contains(k.Name) || (k.Name is "state" or "cause" && states))];
        (string Property, string Unit)[] properties = [.. table.Rows.SelectMany(r => r.Readings).Where(p => p.Value.Count > 0).GroupBy(p => p.Key, StringComparer.Ordinal)
            .Select(g => (g.Key, g.First().Value[0].Unit))];
        string hardness = PropertyTable.Hardness.StoredUnit.Name;
        DelimitedWriter.WriteLine(to, ["heat", "coupon", .. keys.Select(k => k.Heading), $"hardness [{hardness}]", .. properties.Select(p => $"{p.Property} [{p.Unit}]")]);
        foreach (CouponRow row in table.Rows)
        {
            IEnumerable<string?> readings = properties.Select(p => row.Readings.TryGetValue(p.Property, out IReadOnlyList<CensoredValue>? values) ? Figures(values, p.Unit, row.State) : null);
            DelimitedWriter.WriteLine(to, [DelimitedWriter.Safe(row.Heat), DelimitedWriter.Safe(row.Coupon), .. keys.Select(k => k.Cell(row)), Figures(row.Hardness, hardness, CouponState.Valid), .. readings]);
        }
        if (invented) DelimitedWriter.WriteLine(to, [InventedNote]);
    }

    private static string Figures(IReadOnlyList<CensoredValue> values, string unit, CouponState state) => string.Join("; ", values.Select(v =>
    {
        bool marked = v.Text.Length > 0 && v.Text[0] is '>' or '<';
        string bound = marked || v.Censoring == Censoring.None || state == CouponState.NotBroken ? "" : v.Censoring == Censoring.Above ? ">" : "<";
        return bound + v.Text + (v.Unit == unit ? "" : $" {v.Unit}");
    }));

    private static string StateName(CouponState state) => state switch
    {
        CouponState.Invalid => "invalid",
        CouponState.Excluded => "excluded",
        CouponState.NotBroken => "not broken",
        CouponState.NotDone => "not done",
        _ => "valid",
    };
}
