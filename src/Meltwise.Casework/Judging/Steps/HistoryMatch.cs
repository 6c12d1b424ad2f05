using Meltwise.Domain;
using Meltwise.Statistics.ScatterLaw;

namespace Meltwise.Casework.Judging;

/// <summary>A coupon of the history that matched the lots.</summary>
/// <param name="Row">Its row.</param>
/// <param name="Z">Value on the analysis scale.</param>
/// <param name="Hardness">Mean hardness, HRC; NaN when not read.</param>
internal readonly record struct HistoryCoupon(CouponRow Row, double Z, double Hardness);

/// <summary>What of the history is of the lots' kind: for the trend and the sources (same grade or family, route, geometry, orientation, test temperature, temper family), and for the scatter law (same geometry and orientation).</summary>
/// <remarks>A table that lacks a column is taken as of one kind in it, which is said; where it has the column, unknown does not match known. Heats of the lots are left out: no reading is used twice.</remarks>
internal sealed class HistoryMatch
{
    private readonly Dictionary<string, int> _leftOut = [];
    private readonly Dictionary<double, string?> _temperatures = [];

    private HistoryMatch(HistoryUse use, List<HistoryCoupon> trend, List<ScatterGroup> groups, bool otherScales, bool treatments) =>
        (Use, Coupons, ScatterGroups, HasOtherHardnessScales, RecordsTreatment) = (use, trend, groups, otherScales, treatments);

    private HistoryMatch() => (Use, Coupons, ScatterGroups) = (null!, [], []);

    public HistoryUse Use { get; }

    /// <summary>Matched for the trend and the sources, by heat and coupon.</summary>
    public IReadOnlyList<HistoryCoupon> Coupons { get; }

    /// <summary>Groups of one heat, treatment and temperature with two coupons or more.</summary>
    public IReadOnlyList<ScatterGroup> ScatterGroups { get; }

    public bool HasOtherHardnessScales { get; }

    /// <summary>True when the history has a treatment column, so that an unknown treatment matches none.</summary>
    public bool RecordsTreatment { get; }

    public static HistoryMatch? Of(ComparisonInput input, IReadOnlyList<LotCoupon> lots, ResolvedRule rule) =>
        input.History is { } history ? new HistoryMatch().Match(history, input.Lots, input.TrendGrades, lots, rule) : null;

    private HistoryMatch Match(CouponTable history, CouponTable lotTable, IReadOnlyList<string> grades, IReadOnlyList<LotCoupon> lots, ResolvedRule rule)
    {
        HashSet<string> lotHeats = new(lots.Select(l => l.Row.Heat), StringComparer.OrdinalIgnoreCase);
        List<Key> keys = Keys(lots, rule);
        HashSet<string>? family = rule.Rule.TrendFamily is not null && grades.Count > 0 ? new(grades, StringComparer.OrdinalIgnoreCase) : null;
        List<string> oneKind = [];
        List<Key> used = [];
        foreach (Key key in keys)
        {
            bool inHistory = history.Columns.Contains(key.Column), inLots = lotTable.Columns.Contains(key.Column) || key.Wanted is not null;
            if (inHistory && inLots) used.Add(key);
            else oneKind.Add(inHistory ? $"{key.Column} ({lotTable.Name} has no such column)" : $"{key.Column} ({history.Name} has no such column)");
        }

        List<HistoryCoupon> scatter = [], trend = [];
        bool otherScales = false;
        foreach (CouponRow row in history.Rows)
        {
            if (lotHeats.Contains(row.Heat)) LeaveOut("heat of the lots");
            else if (row.State != CouponState.Valid) LeaveOut("not a valid coupon");
            else if (Value(row, rule) is not { } value) LeaveOut("no value of the property");
            else
            {
                HistoryCoupon coupon = new(row, rule.Analysed(value), LotReader.HardnessOf(row) ?? double.NaN);
                string? miss = family is null || row.Grade is { } grade && family.Contains(grade) ? null : row.Grade is null ? "grade unknown" : "grade of another family";
                bool sameForm = true;
                foreach (Key key in used)
                {
                    if (Same(key.Of(row), key.Wanted)) continue;
                    miss ??= key.Of(row) is null ? $"{key.Column} unknown" : $"other {key.Column}";
                    if (key.ForScatter) sameForm = false;
                }
                if (sameForm) scatter.Add(coupon);
                if (miss is not null) LeaveOut(miss);
                else
                {
                    trend.Add(coupon);
                    otherScales |= LotReader.HasOtherScale(row);
                }
            }
        }
        Comparison<HistoryCoupon> byName = (a, b) => string.CompareOrdinal(a.Row.Heat, b.Row.Heat) is var heat and not 0 ? heat : string.CompareOrdinal(a.Row.Coupon, b.Row.Coupon);
        scatter.Sort(byName);
        trend.Sort(byName);
        HistoryUse use = new()
        {
            Table = history.Name,
            Rows = history.Rows.Count,
            Matched = Count(trend),
            MatchedForScatter = Count(scatter),
            LeftOut = [.. _leftOut.OrderByDescending(p => p.Value).ThenBy(p => p.Key, StringComparer.Ordinal).Select(p => new LeftOutCount(p.Key, p.Value))],
            TakenAsOneKind = oneKind,
        };
        return new(use, trend, Groups(scatter), otherScales, history.Columns.Contains("treatment"));
    }

    private sealed record Key(string Column, string? Wanted, Func<CouponRow, string?> Of, bool ForScatter);

    private List<Key> Keys(IReadOnlyList<LotCoupon> lots, ResolvedRule rule)
    {
        Key Make(string column, Func<CouponRow, string?> of, bool forScatter = false) => new(column, StratumCheck.Shared(lots, of), of, forScatter);
        List<Key> keys =
        [
            Make("geometry", r => r.Geometry, true), Make("orientation", r => r.Orientation, true),
            Make("route", r => r.Route), Make("test temperature", TemperatureOf), Make("temper family", r => r.TemperFamily),
        ];
        if (rule.Rule.TrendFamily is null) keys.Insert(0, Make("grade", r => r.Grade));
        return keys;
    }

    private static bool Same(string? a, string? wanted) => wanted is not null && string.Equals(a, wanted, StringComparison.OrdinalIgnoreCase);

    private static double? Value(CouponRow row, ResolvedRule rule) =>
        LotReader.ValueOf(row, rule) is { Bound: Censoring.None } value ? value.Value : null;

    private void LeaveOut(string reason) => _leftOut[reason] = _leftOut.GetValueOrDefault(reason) + 1;

    private static HistoryCount Count(List<HistoryCoupon> coupons) =>
        new(coupons.Count, coupons.Select(c => c.Row.Heat).Distinct(StringComparer.OrdinalIgnoreCase).Count());

    /// <summary>Temperature as text, made once for each value: a bench has thousands of rows at a handful of temperatures.</summary>
    private string? TemperatureOf(CouponRow row)
    {
        if (row.TestTemperatureK is not { } k) return null;
        if (!_temperatures.TryGetValue(k, out string? text)) _temperatures[k] = text = StratumCheck.TemperatureOf(row);
        return text;
    }

    private List<ScatterGroup> Groups(List<HistoryCoupon> coupons)
    {
        List<ScatterGroup> groups = [];
        foreach (IGrouping<(string, string?, string?), HistoryCoupon> g in coupons.GroupBy(c => (c.Row.Heat, c.Row.Treatment, TemperatureOf(c.Row))))
        {
            double[] z = [.. g.Select(c => c.Z)];
            if (z.Length < 2) continue;
            double mean = z.Average(), squares = z.Sum(v => (v - mean) * (v - mean));
            groups.Add(new(mean, squares / (z.Length - 1), z.Length - 1));
        }
        return groups;
    }
}
