using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Reads the cells of key columns.</summary>
internal static class KeyCells
{
    private static readonly string[] s_dayForms = ["yyyy-MM-dd", "yyyy/MM/dd", "yyyy.MM.dd", "dd.MM.yyyy", "d.M.yyyy", "yyyyMMdd"];

    /// <summary>The text without line breaks and without the apostrophe that our exports put before signs a spreadsheet would take as a formula.</summary>
    public static string Plain(string cell)
    {
        string text = cell.AsSpan().ContainsAny("\r\n\t\0") ? string.Join(' ', cell.Split((char[])['\r', '\n', '\t', '\0'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)) : cell;
        return text.Length > 1 && text[0] == '\'' && text[1] is '=' or '+' or '-' or '@' or '\'' ? text[1..] : text;
    }

    /// <summary>True for the words and signs by which people write that they do not know.</summary>
    public static bool IsUnknown(string text) => text is "-" or "–" or "—" or "?" || text.ToUpperInvariant() is "UNKNOWN" or "N/A" or "NA" or "N.A." or "NONE" or "NULL";

    /// <summary>The name of a treatment, or null where it is not known. <c>none</c> is known: the coupon was tested without one.</summary>
    public static string? Treatment(string cell) => cell.Length > 0 && (string.Equals(cell, "none", StringComparison.OrdinalIgnoreCase) || !IsUnknown(cell)) ? cell : null;

    public static CouponState State(string cell, string? column, RowFaults wrong)
    {
        switch (cell.ToUpperInvariant())
        {
            case "" or "VALID" or "OK": return CouponState.Valid;
            case "INVALID": return CouponState.Invalid;
            case "EXCLUDED": return CouponState.Excluded;
            case "NOT BROKEN" or "UNBROKEN" or "DID NOT BREAK": return CouponState.NotBroken;
            case "NOT DONE" or "NOT TESTED" or "PLANNED": return CouponState.NotDone;
            default:
                wrong.Add(column, $"the state {cell}", "valid, invalid, excluded, not broken or not done");
                return CouponState.Valid;
        }
    }

    public static string? TemperFamily(string cell, string? column, RowFaults wrong)
    {
        if (cell.Length == 0 || IsUnknown(cell)) return null;
        string family = cell.ToLowerInvariant();
        if (family.EndsWith(" temper", StringComparison.Ordinal)) family = family[..^7];
        if (family is "low" or "high") return family;
        wrong.Add(column, cell, "low (at most 250 °C) or high (at least 450 °C)");
        return null;
    }

    public static int? Order(string cell, string? column, RowFaults wrong)
    {
        if (cell.Length == 0 || IsUnknown(cell)) return null;
        if (int.TryParse(cell, NumberStyles.None, CultureInfo.InvariantCulture, out int order)) return order;
        if (double.TryParse(cell, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number) && number == Math.Truncate(number) && number < int.MaxValue) return (int)number;
        wrong.Add(column, cell, "a whole number");
        return null;
    }

    public static double? TemperatureK(string cell, ColumnTaken? column, DecimalSign sign, RowFaults wrong, double below = 2000)
    {
        if (cell.Length == 0 || IsUnknown(cell) || column?.Unit is null) return null;
        if (!TypedFigure.TryRead(cell, sign, out Figure figure, out string expected) || figure.Censoring != Censoring.None)
        {
            wrong.Add(column.Heading, cell, $"a temperature in {column.Unit}: {expected}");
            return null;
        }
        string unit = figure.Unit.Length == 0 ? column.Unit : figure.Unit.ToUpperInvariant() switch { "°C" or "C" => "°C", "°F" or "F" => "°F", "K" => "K", _ => "" };
        double kelvin = unit switch { "°C" => figure.Value + 273.15, "°F" => ((figure.Value - 32) * 5 / 9) + 273.15, "K" => figure.Value, _ => double.NaN };
        if (kelvin >= 0 && kelvin < below) return Math.Round(kelvin, 6);
        wrong.Add(column.Heading, cell, "a temperature above absolute zero in °C, °F or K");
        return null;
    }

    public static DateOnly? Day(string cell, string? column, RowFaults wrong)
    {
        if (cell.Length == 0 || IsUnknown(cell)) return null;
        string day = cell.Length > 10 && cell[10] is 'T' or ' ' ? cell[..10] : cell;
        if (DateOnly.TryParseExact(day, s_dayForms, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly found)) return found;
        if (SlashDay(day) is { } slashed) return slashed;
        wrong.Add(column, cell, "a day as 2026-03-31 or 31.03.2026");
        return null;
    }

    // With slashes the world writes the day first or the month first; only where one of them exceeds 12 is it certain.
    private static DateOnly? SlashDay(string text)
    {
        string[] parts = text.Split('/');
        if (parts.Length != 3 || !int.TryParse(parts[0], out int a) || !int.TryParse(parts[1], out int b) || !int.TryParse(parts[2], out int year) || year is < 1900 or > 2200) return null;
        (int day, int month) = a > 12 ? (a, b) : b > 12 ? (b, a) : a == b ? (a, b) : (0, 0);
        return month is >= 1 and <= 12 && day >= 1 && day <= DateTime.DaysInMonth(year, month) ? new DateOnly(year, month, day) : null;
    }
}
