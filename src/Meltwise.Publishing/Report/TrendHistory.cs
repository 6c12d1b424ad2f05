using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report;

/// <summary>Gathers the groups of a history that stand on a verdict's trend figure: one group a heat and treatment.</summary>
public static class TrendHistory
{
    /// <summary>The input of the trend figure; null when no group of the history has both hardness and the property.</summary>
    /// <param name="history">Coupons of the bench.</param>
    /// <param name="verdict">The verdict, whose stratum says what matches and whose trend is drawn.</param>
    /// <param name="linkOf">Address of a heat's page; null for no links.</param>
    public static TrendInput? Of(CouponTable history, Verdict verdict, Func<string, string>? linkOf = null)
    {
        string property = verdict.Rule.Property;
        if (property == "hardness" || PropertyTable.Find(property) is not { } known)
            return null;
        HashSet<string> lots = [.. verdict.Lots.SelectMany(l => l.Heat)];
        Stratum s = verdict.Stratum;
        TrendGroup[] groups = [.. history.Rows
            .Where(r => !lots.Contains(r.Heat) && r.State == CouponState.Valid && r.Hardness.Count > 0 && r.Readings.ContainsKey(property) && Matches(r, s))
            .GroupBy(r => (r.Heat, r.Treatment))
            .Select(g => Group(g.Key.Heat, [.. g], known, verdict, s, linkOf))
            .OrderBy(g => g.Name, StringComparer.Ordinal)];
        if (groups.Length == 0)
            return null;
        return new()
        {
            Property = property,
            Unit = verdict.Rule.Unit,
            Log = verdict.Rule.Scale == "log",
            Groups = groups,
            Condition = s.Condition,
            Trend = verdict.EqualHardness?.Trend,
            Range = verdict.EqualHardness?.HardnessRange is [var low, var high] ? new(low, high) : null,
            Lots = [.. verdict.Lots.Where(l => l.HardnessMean is not null).Select(l => Lot(l, verdict))],
        };
    }

    private static bool Matches(CouponRow row, Stratum s) =>
        Same(row.Geometry, s.Geometry) && Same(row.Orientation, s.Orientation)
        && (s.TestTemperatureC is not { } c || (row.TestTemperatureK is { } k && Math.Abs(k - 273.15 - c) < 0.5));

    private static bool Same(string? of, string? wanted) => wanted is null || string.Equals(of, wanted, StringComparison.Ordinal);

    private static TrendGroup Group(string heat, CouponRow[] rows, Property property, Verdict verdict, Stratum s, Func<string, string>? linkOf)
    {
        bool log = verdict.Rule.Scale == "log";
        double[] values = [.. rows.Select(r => r.Readings[property.Name].Average(v => property.Convert(v.Value, v.Unit, verdict.Rule.Unit))).Where(v => !log || v > 0)];
        double value = values.Length == 0 ? double.NaN : log ? Math.Exp(values.Average(Math.Log)) : values.Average();
        CouponRow first = rows[0];
        bool inTrend = Same(first.Route, s.Route) && Same(first.TemperFamily, s.TemperFamily);
        return new(heat, rows.Average(r => r.Hardness.Average(h => h.Value)), value, rows.Length, inTrend, linkOf?.Invoke(heat), first.Route);
    }

    private static TrendLot Lot(Lot lot, Verdict verdict)
    {
        double centre = lot.GeometricMean ?? lot.Mean, alpha = verdict.Rule.Alpha;
        if (lot.N < 2 || (lot.LogSd ?? lot.Sd) is not { } sd)
            return new(string.Join(", ", lot.Heat), lot.HardnessMean!.Value, centre, lot.Role == "candidate");
        double step = Statistics.Distributions.StudentT.Quantile(1 - alpha, lot.N - 1) * sd / Math.Sqrt(lot.N);
        (double low, double high) = lot.LogSd is not null ? (centre * Math.Exp(-step), centre * Math.Exp(step)) : (centre - step, centre + step);
        return new(string.Join(", ", lot.Heat), lot.HardnessMean!.Value, centre, lot.Role == "candidate", low, high);
    }
}
