using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Looks for columns whose heading says one unit while the figures fit the history in another: J under ft·lbf and the reverse, °F under °C and the reverse.</summary>
public static class UnitSlips
{
    // Room temperature of impact tests, K: 15 to 30 °C (common practice, no source); used where there is no history.
    private static readonly (double Low, double High) s_room = (288.15, 303.15);

    // A temperature this far from all that was ever tested at, while the other scale puts it right among it.
    private const double KelvinAside = 15;

    /// <summary>All suspicions of a file against a history.</summary>
    /// <param name="preview">The file.</param>
    /// <param name="history">Coupons tested before; may be empty.</param>
    public static IReadOnlyList<UnitSuspicion> Of(IntakePreview preview, CouponTable history)
    {
        List<UnitSuspicion> suspicions = [];
        foreach (ColumnTaken column in preview.Columns)
        {
            if (column.Property is { Scale: PropertyScale.Logarithmic, Units.Count: > 1 } property && column.Unit is not null) suspicions.AddRange(OfProperty(preview, column, property, history));
            if (column is { Role: ColumnRole.Key, Name: "test temperature", Unit: "°C" or "°F" } && OfTemperature(preview, column, history) is { } slip) suspicions.Add(slip);
        }
        return suspicions;
    }

    /// <summary>Rows of a history that are of one kind with a coupon: grade, route, geometry and orientation agree as far as the coupon knows them.</summary>
    public static IEnumerable<CouponRow> OfOneKind(CouponRow coupon, CouponTable history)
    {
        Kind kind = Kind.Of(coupon);
        return history.Rows.Where(r => kind.Holds(r) && r.Heat != coupon.Heat);
    }

    /// <summary>Judges a single reading as it is typed, by history of the same kind at that hardness; null when there is nothing to say.</summary>
    public static UnitSuspicion? OfReading(CensoredValue typed, Property property, double? hrc, HistoryScale scale)
    {
        if (typed.Censoring != Censoring.None || typed.Value <= 0 || property.FindUnit(typed.Unit) is not { } said) return null;
        foreach (PropertyUnit other in property.Units.Where(u => u.Name != said.Name))
            if (scale.Evidence(Math.Log(typed.Value * said.Factor), 1, hrc, Math.Log(other.Factor / said.Factor)) is { } evidence && HistoryScale.IsSlip(evidence))
                return new(null, property.Name, said.Name, other.Name, Words(scale, property, said, other, typed.Value, hrc));
        return null;
    }

    private static IEnumerable<UnitSuspicion> OfProperty(IntakePreview preview, ColumnTaken column, Property property, CouponTable history)
    {
        PropertyUnit said = property.FindUnit(column.Unit!)!;
        Lot[] lots = [.. preview.Coupons.Where(r => HistoryScale.LogOf(r, property) is not null && r.Readings[property.Name].All(v => v.Unit == said.Name))
            .GroupBy(r => (r.Heat, Kind.Of(r), r.Treatment)).Select(g => Lot.Of([.. g], property))];
        HashSet<string> own = [.. preview.Coupons.Select(r => r.Heat)];
        Dictionary<Kind, HistoryScale?> scales = lots.Select(l => l.Kind).Distinct()
            .ToDictionary(k => k, k => HistoryScale.Of(history.Rows.Where(r => k.Holds(r) && !own.Contains(r.Heat)), property));
        foreach (PropertyUnit other in property.Units.Where(u => u.Name != said.Name))
        {
            double total = 0;
            foreach (Lot lot in lots)
                total += scales[lot.Kind]?.Evidence(lot.MeanLog, lot.Count, lot.Hrc, Math.Log(other.Factor / said.Factor)) ?? 0;
            if (!HistoryScale.IsSlip(total)) continue;
            Lot shown = lots.First(l => scales[l.Kind] is not null);
            yield return new(column.Sheet, column.Heading, said.Name, other.Name, Words(scales[shown.Kind]!, property, said, other, Math.Exp(shown.MeanLog) / said.Factor, shown.Hrc));
        }
    }

    private static UnitSuspicion? OfTemperature(IntakePreview preview, ColumnTaken column, CouponTable history)
    {
        double[] said = [.. preview.Coupons.Where(r => r.TestTemperatureK is not null).Select(r => r.TestTemperatureK!.Value)];
        if (said.Length == 0) return null;
        double[] known = [.. history.Rows.Where(r => r.TestTemperatureK is not null).Select(r => r.TestTemperatureK!.Value).Distinct()];
        (double low, double high) = known.Length == 0 ? s_room : (known.Min() - 2, known.Max() + 2);
        bool saidFits = Array.Exists(said, k => k >= low - KelvinAside && k <= high + KelvinAside);
        bool otherFits = Array.TrueForAll(said, k => OtherScale(k, column.Unit!) is var other && other >= low && other <= high);
        if (saidFits || !otherFits) return null;
        string likely = column.Unit == "°C" ? "°F" : "°C";
        string basis = known.Length == 0 ? "room temperature" : "what this bench has tested at before";
        return new(column.Sheet, column.Heading, column.Unit!, likely, string.Create(CultureInfo.InvariantCulture,
            $"{column.Heading} reads {Figure(said[0], column.Unit!):0.#} {column.Unit}, far from {basis} ({low - 273.15:0} to {high - 273.15:0} °C); as {likely} it would be among it."));
    }

    // The same figure read on the other scale, in kelvin.
    private static double OtherScale(double kelvin, string unit) => unit == "°C" ? ((kelvin - 273.15 - 32) * 5 / 9) + 273.15 : Figure(kelvin, "°F") + 273.15;

    private static double Figure(double kelvin, string unit) => unit == "°C" ? kelvin - 273.15 : ((kelvin - 273.15) * 9 / 5) + 32;

    private static string Words(HistoryScale scale, Property property, PropertyUnit said, PropertyUnit other, double figure, double? hrc)
    {
        string at = hrc is { } h ? string.Create(CultureInfo.InvariantCulture, $" at {h:0.0} HRC") : "";
        return string.Create(CultureInfo.InvariantCulture,
            $"{property.Name} of {figure:G3} {said.Name} does not fit {scale.Groups} earlier groups, which expect about {scale.Expected(hrc) / said.Factor:G3} {said.Name}{at}; as {figure:G3} {other.Name} it would fit.");
    }

    // History of one kind: what the lot's rows know must agree, what they do not know is left open.
    private sealed record Kind(string? Grade, string? Route, string? Geometry, string? Orientation)
    {
        public static Kind Of(CouponRow row) => new(row.Grade, row.Route, row.Geometry, row.Orientation);

        public bool Holds(CouponRow row) =>
            (Grade is null || row.Grade == Grade) && (Route is null || row.Route == Route) && (Geometry is null || row.Geometry == Geometry) && (Orientation is null || row.Orientation == Orientation);
    }

    private sealed record Lot(Kind Kind, int Count, double MeanLog, double? Hrc)
    {
        public static Lot Of(CouponRow[] rows, Property property)
        {
            double[] hrc = [.. rows.Select(HistoryScale.MeanHrc).Where(h => h is not null).Select(h => h!.Value)];
            return new(Kind.Of(rows[0]), rows.Length, rows.Average(r => HistoryScale.LogOf(r, property)!.Value), hrc.Length == 0 ? null : hrc.Average());
        }
    }
}
