using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>Step 1: are all coupons of both lots of one kind? Same geometry, orientation, test temperature and treatment; unknown does not match known.</summary>
internal static class StratumCheck
{
    private static readonly (string Column, Func<CouponRow, string?> Value)[] s_kind =
    [
        ("geometry", r => r.Geometry), ("orientation", r => r.Orientation), ("test temperature", TemperatureOf), ("treatment", r => r.Treatment),
    ];

    public static Stratum Of(CouponTable table, IReadOnlyList<LotCoupon> coupons, ResolvedRule rule)
    {
        List<string> differences = [], notRecorded = [];
        foreach ((string column, Func<CouponRow, string?> value) in s_kind)
        {
            string?[] values = [.. coupons.Select(c => value(c.Row)).Distinct(StringComparer.OrdinalIgnoreCase)];
            if (values.All(v => v is null)) notRecorded.Add(column);
            else if (values.Length > 1) differences.Add(Difference(column, coupons, value));
        }
        foreach (string column in new[] { "grade", "route", "temper family", "load" })
            if (!table.Columns.Contains(column) && coupons.All(c => Extra(c.Row, column) is null)) notRecorded.Add(column);
        string? geometry = Shared(coupons, r => r.Geometry), orientation = Shared(coupons, r => r.Orientation), temperature = Shared(coupons, TemperatureOf);
        return new()
        {
            Property = rule.Property.Name,
            Grade = Shared(coupons, r => r.Grade),
            Route = Shared(coupons, r => r.Route),
            Geometry = geometry,
            Orientation = orientation,
            TestTemperatureC = coupons.Count > 0 && temperature is not null && coupons[0].Row.TestTemperatureK is { } k ? Math.Round(k - 273.15, 2) : null,
            Treatment = Shared(coupons, r => r.Treatment),
            TemperFamily = Shared(coupons, r => r.TemperFamily),
            Differences = differences,
            NotRecorded = notRecorded,
            Condition = string.Join(", ", new[] { geometry, orientation, temperature }.OfType<string>()) is { Length: > 0 } condition ? condition : "condition not recorded",
        };
    }

    /// <summary>Differences in all that a temper ladder must keep the same: geometry, orientation, test temperature, and low or high temper.</summary>
    public static IReadOnlyList<string> DifferencesBesideTreatment(IReadOnlyList<LotCoupon> coupons) =>
    [
        .. s_kind.Where(k => k.Column != "treatment").Append(("temper family", r => r.TemperFamily))
            .Where(k => coupons.Select(c => k.Value(c.Row)).Distinct(StringComparer.OrdinalIgnoreCase).Count() > 1)
            .Select(k => Difference(k.Column, coupons, k.Value)),
    ];

    /// <summary>Temperature of the test as text, to a tenth of a degree, so that 73.4 °F and 23 °C are one.</summary>
    public static string? TemperatureOf(CouponRow row) =>
        row.TestTemperatureK is { } k ? string.Create(CultureInfo.InvariantCulture, $"{Math.Round(k - 273.15, 1) + 0.0:0.##} °C") : null;

    /// <summary>The value that all coupons share, or null.</summary>
    public static string? Shared(IReadOnlyList<LotCoupon> coupons, Func<CouponRow, string?> value)
    {
        string? first = coupons.Count > 0 ? value(coupons[0].Row) : null;
        return first is not null && coupons.All(c => string.Equals(value(c.Row), first, StringComparison.OrdinalIgnoreCase)) ? first : null;
    }

    private static string? Extra(CouponRow row, string column) => column switch
    {
        "grade" => row.Grade,
        "route" => row.Route,
        "temper family" => row.TemperFamily,
        _ => row.Load,
    };

    private static string Difference(string column, IReadOnlyList<LotCoupon> coupons, Func<CouponRow, string?> value)
    {
        IEnumerable<string> kinds = coupons.GroupBy(c => c.Row.Heat, StringComparer.OrdinalIgnoreCase)
            .Select(g => $"{g.Key} {string.Join(" and ", g.Select(c => value(c.Row) ?? "unknown").Distinct(StringComparer.OrdinalIgnoreCase))}");
        return $"{column}: {string.Join(", ", kinds)}";
    }
}
