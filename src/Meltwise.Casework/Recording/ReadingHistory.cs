using Meltwise.Casework.Intake;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>What the bench's history expects of a reading. Kept for a while, so that typing does not read the whole history at every cell. Safe for use by several threads.</summary>
public sealed class ReadingHistory
{
    private static readonly TimeSpan s_fresh = TimeSpan.FromMinutes(5);
    private readonly Lock _lock = new();
    private readonly Dictionary<object, (DateTime AtUtc, object Value)> _kept = [];

    /// <summary>The band for a kind of coupon, or null when the bench has too few of it.</summary>
    public ReadingExpectation? Band(IBench bench, Property property, string? geometry, string? orientation) => Kept(
        (bench.Card.Place, property.Name, geometry, orientation),
        () => ReadingExpectation.From(Means(bench, property, geometry, orientation), property.Scale));

    /// <summary>The heats of the coupon's kind on a line over hardness, itself not among them, or null when there are too few.</summary>
    internal HistoryScale? Scale(IBench bench, Property property, CouponRow own) => Kept(
        (bench.Card.Place, property.Name, own.Grade, own.Route, own.Geometry, own.Orientation, own.Heat),
        () => HistoryScale.Of(UnitSlips.OfOneKind(own, OfGrade(bench, property, own.Grade)), property));

    private T? Kept<T>(object key, Func<T?> make)
        where T : class
    {
        lock (_lock)
            if (_kept.TryGetValue(key, out (DateTime AtUtc, object Value) kept) && DateTime.UtcNow - kept.AtUtc < s_fresh) return (T)kept.Value;
        T? made = make();
        // Too little history is read quickly and may be enough after the next reading, so that it is not kept.
        if (made is not null)
            lock (_lock) _kept[key] = (DateTime.UtcNow, made);
        return made;
    }

    private static IEnumerable<double> Means(IBench bench, Property property, string? geometry, string? orientation) =>
        bench.CouponTable(new CouponSelection(Property: property.Name)).Rows
            .Where(r => r.Geometry == geometry && r.Orientation == orientation && r.State == CouponState.Valid)
            .Select(r => property == PropertyTable.Hardness ? r.Hardness : r.Readings.GetValueOrDefault(property.Name) ?? [])
            .Where(v => v.Count > 0)
            .Select(v => v.Average(x => property.Convert(x.Value, x.Unit, property.StoredUnit.Name)));

    // Heats of the same grade, all heats where the grade is unknown.
    private static CouponTable OfGrade(IBench bench, Property property, string? grade) => bench.CouponTable(new(
        grade is null ? null : [.. bench.Heats().Where(h => h.Grade == grade).Select(h => h.Name)], Property: property.Name));
}
