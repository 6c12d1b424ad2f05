using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Studying;

/// <summary>Columns of a coupon table that make groups or choose rows for a study.</summary>
public static class StudyTable
{
    private static readonly Dictionary<string, Func<CouponRow, string?>> s_columns = new(StringComparer.OrdinalIgnoreCase)
    {
        ["treatment"] = r => r.Treatment,
        ["temper family"] = r => r.TemperFamily,
        ["route"] = r => r.Route,
        ["source"] = r => r.Source,
        ["grade"] = r => r.Grade,
        ["orientation"] = r => r.Orientation,
        ["geometry"] = r => r.Geometry,
        ["session"] = r => r.Session,
        ["test temperature"] = r => r.TestTemperatureK is { } k ? string.Create(CultureInfo.InvariantCulture, $"{k - 273.15:0.#} °C") : null,
    };

    private static readonly Dictionary<string, Func<CouponRow, string?>> s_choosing = new(s_columns, StringComparer.OrdinalIgnoreCase) { ["heat"] = r => r.Heat, ["load"] = r => r.Load };

    /// <summary>Columns whose values make groups.</summary>
    public static IReadOnlyList<string> Columns { get; } = [.. s_columns.Keys];

    /// <summary>Columns that rows can be chosen by.</summary>
    public static IReadOnlyList<string> ChoosingColumns { get; } = [.. s_choosing.Keys];

    /// <summary>The value of a row in a column that makes groups; null when unknown.</summary>
    public static string? ValueOf(CouponRow row, string column) => s_columns[column](row);

    /// <summary>Only the rows with a value in a column.</summary>
    /// <exception cref="StudyFaultException">No such column.</exception>
    public static CouponTable Only(this CouponTable table, string column, string value)
    {
        ArgumentNullException.ThrowIfNull(table);
        if (!s_choosing.TryGetValue(column, out Func<CouponRow, string?>? cell)) throw new StudyFaultException($"'{column}' is no column to choose by; {string.Join(", ", ChoosingColumns)} are.");
        return table with { Rows = [.. table.Rows.Where(r => string.Equals(cell(r), value, StringComparison.OrdinalIgnoreCase))] };
    }

    /// <summary>The bench's coupons, each treatment by its name where its set values have one.</summary>
    public static CouponTable OfBench(IBench bench, Property property)
    {
        ArgumentNullException.ThrowIfNull(bench);
        Dictionary<string, string> names = bench.Treatments().GroupBy(t => t.SetValues, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First().Name, StringComparer.Ordinal);
        CouponTable table = bench.CouponTable(new CouponSelection(Property: property.Name));
        return table with { Name = "the bench", Rows = [.. table.Rows.Select(r => r with { Treatment = r.Treatment is { } set ? names.GetValueOrDefault(set, set) : null })] };
    }
}
