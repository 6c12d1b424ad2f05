using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Publishing.Tables;

/// <summary>Coupons as a data table with the headings of the command contract, so that an intake reads what an export wrote.</summary>
public static class CouponDataTable
{
    private sealed record Key(DataColumn Column, Func<CouponRow, string?> Cell);

    private static readonly Key[] s_keys =
    [
        new(new("heat", CellKind.Text, "melt the coupon was cut from"), r => r.Heat),
        new(new("coupon", CellKind.Text, "name of the coupon within the heat"), r => r.Coupon),
        new(new("source", CellKind.Text, "who the heat was bought from"), r => r.Source),
        new(new("grade", CellKind.Text, "grade by standard designation or generic composition"), r => r.Grade),
        new(new("route", CellKind.Text, "how the heat was melted and consolidated"), r => r.Route),
        new(new("orientation", CellKind.Text, "direction of the coupon in the product"), r => r.Orientation),
        new(new("geometry", CellKind.Text, "size and notch"), r => r.Geometry),
        new(new("test temperature [°C]", CellKind.Number, "temperature of the test", "°C"), r => r.TestTemperatureK is { } k ? Math.Round(k - 273.15, 6).ToString("R", CultureInfo.InvariantCulture) : null),
        new(new("treatment", CellKind.Text, "heat treatment by its set values"), r => r.Treatment),
        new(new("temper family", CellKind.Text, "low or high temper"), r => r.TemperFamily),
        new(new("load", CellKind.Text, "furnace load"), r => r.Load),
        new(new("session", CellKind.Text, "session of hardness measurement"), r => r.Session),
        new(new("order", CellKind.Number, "order of testing"), r => r.Order?.ToString(CultureInfo.InvariantCulture)),
        new(new("instrument", CellKind.Text, "instrument of the property reading"), r => r.Instrument),
        new(new("date", CellKind.Text, "day of the test, ISO 8601"), r => r.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
        new(new("code", CellKind.Text, "blind code engraved on the coupon"), r => r.Code),
        new(new("position", CellKind.Text, "where in the bar the coupon was cut"), r => r.Position),
        new(new("hardness moment", CellKind.Text, "before or after: whether hardness was read before or after the test"), r => r.HardnessMoment switch { HardnessMoment.BeforeTest => "before", HardnessMoment.AfterTest => "after", _ => null }),
        new(new("hardness order", CellKind.Number, "number in the order of the hardness readings"), r => r.HardnessOrder?.ToString(CultureInfo.InvariantCulture)),
        new(new("fracture origin", CellKind.Text, "what lay where the fracture began: inclusion, carbide cluster, pore, surface, grinding, other, none seen; empty means not examined"), r => r.Fracture is { } f ? OriginKinds.NameOf(f.Kind) : null),
        new(new("origin size [µm]", CellKind.Number, "square root of the area of the origin on the fracture", "µm"), r => r.Fracture?.SizeUm?.ToString("R", CultureInfo.InvariantCulture)),
        new(new("origin from surface [µm]", CellKind.Number, "distance of the centre of the origin from the nearest surface", "µm"), r => r.Fracture?.FromSurfaceUm?.ToString("R", CultureInfo.InvariantCulture)),
        new(new("origin seen by", CellKind.Text, "how the origin was seen"), r => r.Fracture?.SeenBy),
        new(new("origin notes", CellKind.Text, "what else was seen on the fracture"), r => r.Fracture?.Notes),
        new(new("state", CellKind.Text, "valid, invalid, excluded, not broken or not done"), r => State(r.State)),
        new(new("cause", CellKind.Text, "cause of an invalid or excluded coupon"), r => r.Cause),
    ];

    /// <summary>The table.</summary>
    /// <param name="coupons">Coupons.</param>
    /// <param name="name">Name of its files.</param>
    public static DataTable Of(CouponTable coupons, string name)
    {
        int indents = coupons.Rows.Count == 0 ? 0 : coupons.Rows.Max(r => r.Hardness.Count);
        (string Property, string Unit, int Repeats)[] readings =
        [
            .. coupons.Rows.SelectMany(r => r.Readings.SelectMany(p => p.Value.GroupBy(v => v.Unit).Select(g => (Property: p.Key, Unit: g.Key, Repeats: g.Count()))))
                .GroupBy(p => (p.Property, p.Unit)).Select(g => (g.Key.Property, g.Key.Unit, g.Max(p => p.Repeats))).OrderBy(p => p.Property, StringComparer.Ordinal).ThenBy(p => p.Unit, StringComparer.Ordinal),
        ];
        Key[] keys = [.. s_keys.Where((k, i) => i < 2 || coupons.Rows.Any(r => k.Cell(r) is not null))];
        List<DataColumn> columns = [.. keys.Select(k => k.Column)];
        for (int i = 1; i <= indents; i++)
            columns.Add(new(indents == 1 ? "hardness [HRC]" : $"hardness {i} [HRC]", CellKind.Reading, $"hardness, reading {i}, as typed", "HRC"));
        foreach ((string property, string unit, int repeats) in readings)
        {
            for (int i = 1; i <= repeats; i++)
                columns.Add(new(repeats == 1 ? $"{property} [{unit}]" : $"{property} {i} [{unit}]", CellKind.Reading, $"{property}{(repeats == 1 ? "" : $", reading {i}")}, as typed; > and < mark a bound", unit));
        }
        return new(name, columns, [.. coupons.Rows.Select(r => (IReadOnlyList<string?>)[.. keys.Select(k => k.Cell(r)), .. Cells(r.Hardness, indents), .. readings.SelectMany(p => Cells([.. (r.Readings.GetValueOrDefault(p.Property) ?? []).Where(v => v.Unit == p.Unit)], p.Repeats))])]);
    }

    private static IEnumerable<string?> Cells(IReadOnlyList<CensoredValue> values, int count)
    {
        for (int i = 0; i < count; i++)
            yield return i < values.Count ? Typed(values[i]) : null;
    }

    /// <summary>A reading as typed, a bound with its sign.</summary>
    public static string Typed(CensoredValue value)
    {
        string figure = value.Text.Trim().TrimStart('<', '>', ' ');
        return value.Censoring switch { Censoring.Above => ">" + figure, Censoring.Below => "<" + figure, _ => figure };
    }

    private static string? State(CouponState state) => state switch
    {
        CouponState.Invalid => "invalid",
        CouponState.Excluded => "excluded",
        CouponState.NotBroken => "not broken",
        CouponState.NotDone => "not done",
        _ => "valid",
    };
}
