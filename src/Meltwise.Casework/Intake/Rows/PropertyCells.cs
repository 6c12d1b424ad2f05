using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Reads the cells of property columns: one figure, or several parted by semicolons.</summary>
internal static class PropertyCells
{
    public static List<CensoredValue> Read(string cell, ColumnTaken column, DecimalSign sign, CouponState state, RowFaults wrong)
    {
        List<CensoredValue> values = new(1);
        foreach (Range part in cell.AsSpan().Split(';'))
        {
            string text = cell.AsSpan(part).Trim().ToString();
            if (text.Length == 0 || KeyCells.IsUnknown(text)) continue;
            if (ReadOne(text, column, sign, state, wrong) is { } value) values.Add(value);
        }
        return values;
    }

    private static CensoredValue? ReadOne(string text, ColumnTaken column, DecimalSign sign, CouponState state, RowFaults wrong)
    {
        if (!TypedFigure.TryRead(text, sign, out Figure figure, out string expected))
        {
            wrong.Add(column.Heading, text, expected);
            return null;
        }
        string? unit = UnitOf(figure.Unit, column);
        if (unit is null)
        {
            string units = column.Property is { } p ? string.Join(" or ", p.Units.Select(u => u.Name)) : column.Unit ?? "a unit";
            wrong.Add(column.Heading, figure.Unit.Length == 0 ? $"{text} without a unit" : $"the unit {figure.Unit} in {text}", $"{column.Name} in {units}, in the heading or behind the figure");
            return null;
        }
        if (Unbelievable(figure, unit, column.Property) is { } limits)
        {
            wrong.Add(column.Heading, $"{text} {(figure.Unit.Length == 0 ? unit : "")}".TrimEnd(), limits);
            return null;
        }
        bool bound = state == CouponState.NotBroken && column.Name != PropertyTable.Hardness.Name;
        return new(figure.Value, unit, bound ? Censoring.Above : figure.Censoring, figure.Text);
    }

    // A unit behind the figure holds before the heading's.
    private static string? UnitOf(string typed, ColumnTaken column) => typed.Length == 0 ? column.Unit
        : column.Property is { } property ? property.FindUnit(typed)?.Name
        : string.Equals(typed, column.Unit, StringComparison.OrdinalIgnoreCase) ? column.Unit : null;

    private static string? Unbelievable(Figure figure, string unit, Property? property)
    {
        if (property is null) return null;
        double stored = property.Convert(figure.Value, unit, property.StoredUnit.Name);
        return stored > property.LowestBelievable && stored <= property.HighestBelievable ? null : string.Create(
            CultureInfo.InvariantCulture, $"{property.Name} above {Math.Max(property.LowestBelievable, property.LowestBelievable > -1e-6 ? 0 : double.MinValue):0.##} and at most {property.HighestBelievable:0.##} {property.StoredUnit.Name}");
    }
}
