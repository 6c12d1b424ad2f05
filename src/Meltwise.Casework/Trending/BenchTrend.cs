using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Trending;

/// <summary>Which coupons of a bench the trend is drawn through; null means any.</summary>
/// <param name="Property">Name of the property.</param>
/// <param name="Grade">Grade.</param>
/// <param name="Route">Route.</param>
/// <param name="Orientation">Orientation.</param>
/// <param name="Geometry">Size and notch.</param>
/// <param name="TemperFamily">Low or high temper.</param>
public sealed record TrendChoice(string Property, string? Grade = null, string? Route = null, string? Orientation = null, string? Geometry = null, string? TemperFamily = null)
{
    /// <summary>Why a coupon is not of the chosen kind, or null when it is.</summary>
    public string? Misses(CouponRow row) =>
        Other(Grade, row.Grade) ? "other grade"
        : Other(Route, row.Route) ? "other route"
        : Other(Orientation, row.Orientation) ? "other orientation"
        : Other(Geometry, row.Geometry) ? "other geometry"
        : Other(TemperFamily, row.TemperFamily) ? "other temper" : null;

    private static bool Other(string? wanted, string? has) => wanted is not null && !string.Equals(wanted, has, StringComparison.OrdinalIgnoreCase);
}

/// <summary>One group of coupons on the trend: a heat in one treatment.</summary>
/// <param name="Heat">Name of the heat.</param>
/// <param name="Treatment">Set values of the treatment; null when unknown.</param>
/// <param name="Route">Route of the heat.</param>
/// <param name="HardnessHrc">Mean hardness, HRC.</param>
/// <param name="Value">Mean of the property in its stored unit: geometric where it is compared by ratio.</param>
/// <param name="Coupons">Coupons.</param>
public sealed record TrendPoint(string Heat, string? Treatment, string? Route, double HardnessHrc, double Value, int Coupons);

/// <summary>The property against hardness through every heat of one kind that the bench has tested.</summary>
/// <remarks>The fit is that of the verdict's equal-hardness step (errors in hardness, heats random); here without lots on top, so no heat is left out.
/// It is bent where the heats show it. It takes hardness sessions as one. Heats were tested because somebody asked: they are no random draw.</remarks>
public sealed record BenchTrend
{
    /// <summary>Groups of the chosen kind, by heat.</summary>
    public required IReadOnlyList<TrendPoint> Points { get; init; }

    /// <summary>The fit on the property's scale; null when it could not be made.</summary>
    public TrendLine? Line { get; init; }

    /// <summary>Lowest and highest heat mean of hardness, HRC; null without a fit.</summary>
    public (double Low, double High)? RangeHrc { get; init; }

    /// <summary>Reliability of the heat means of hardness, λ; null without a fit.</summary>
    public double? Attenuation { get; init; }

    /// <summary>Heats in the fit.</summary>
    public int Heats { get; init; }

    /// <summary>Coupons in the points.</summary>
    public int Coupons => Points.Sum(p => p.Coupons);

    /// <summary>Why there is no line, in words; null when there is one.</summary>
    public string? WhyNoLine { get; init; }

    /// <summary>Coupons left out, by reason.</summary>
    public required IReadOnlyDictionary<string, int> LeftOut { get; init; }

    /// <summary>Draws the trend from the coupons of a bench.</summary>
    public static BenchTrend Of(CouponTable table, TrendChoice choice)
    {
        Property property = PropertyTable.Find(choice.Property) ?? PropertyTable.ImpactEnergy;
        bool log = property.Scale == PropertyScale.Logarithmic;
        var leftOut = new SortedDictionary<string, int>(StringComparer.Ordinal);
        var coupons = new List<HistoryCoupon>();
        foreach (CouponRow row in table.Rows)
        {
            if (Coupon(row, property, log) is not { } coupon) Count("no valid reading with hardness");
            else if (choice.Misses(row) is { } reason) Count(reason);
            else coupons.Add(coupon);
        }

        // One order for every sum, so that the order of the rows changes no digit.
        HistoryCoupon[] ordered = [.. coupons.OrderBy(c => c.Row.Heat, StringComparer.Ordinal).ThenBy(c => c.Row.Coupon, StringComparer.Ordinal)];
        HeatSet set = HeatSet.From(ordered);
        HeatTrend? trend = set.HardnessDf < 1 ? null : HeatTrend.Fit(set.Heats, set.Sources, new(set.HardnessSquares / set.HardnessDf, set.HardnessDf, 0));
        return new()
        {
            Points = [.. Group(ordered, log)],
            LeftOut = leftOut,
            Heats = set.Heats.Count,
            Line = trend is null ? null : TrendLine.Of(trend, BentTrend.Serves(trend, trend.Centre)),
            RangeHrc = trend is null ? null : (trend.LowestHrc, trend.HighestHrc),
            Attenuation = trend?.Attenuation,
            WhyNoLine = trend is not null ? null : $"A trend needs {HeatTrend.FewestDf + 2} heats of one kind that differ in hardness; there are {set.Heats.Count}.",
        };

        void Count(string reason) => leftOut[reason] = leftOut.GetValueOrDefault(reason) + 1;
    }

    private static HistoryCoupon? Coupon(CouponRow row, Property property, bool log)
    {
        if (row.State != CouponState.Valid || row.Hardness.Count == 0 || row.Hardness.Any(h => h.Unit != PropertyTable.Hardness.StoredUnit.Name)
            || !row.Readings.TryGetValue(property.Name, out IReadOnlyList<CensoredValue>? values) || values.Any(v => v.Censoring != Censoring.None)) return null;
        double value = values.Average(v => property.Convert(v.Value, v.Unit, property.StoredUnit.Name));
        return log && value <= 0 ? null : new(row, log ? Math.Log(value) : value, row.Hardness.Average(h => h.Value));
    }

    private static IEnumerable<TrendPoint> Group(IEnumerable<HistoryCoupon> coupons, bool log) =>
        coupons.GroupBy(c => (c.Row.Heat, c.Row.Treatment)).OrderBy(g => g.Key.Heat, StringComparer.Ordinal).Select(g => new TrendPoint(
            g.Key.Heat, g.Key.Treatment, g.First().Row.Route, g.Average(c => c.Hardness), log ? Math.Exp(g.Average(c => c.Z)) : g.Average(c => c.Z), g.Count()));
}
