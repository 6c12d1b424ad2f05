using Meltwise.Casework.Recording;
using Meltwise.Casework.Trending;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>The kind of coupon that is planned, and whose: what of a history speaks of it.</summary>
/// <param name="Choice">Property, grade, route, orientation, geometry and temper family; null means any.</param>
/// <param name="Treatment">Treatment, for the scatter among heats; null takes the one that the history has most of.</param>
/// <param name="LotHeats">Heats of the enquiry, which no history may hold.</param>
/// <param name="CandidateSource">Source of the candidate; null when not known.</param>
/// <param name="ReferenceSource">Source of the reference.</param>
public sealed record PlannedKind(TrendChoice Choice, string? Treatment = null, IReadOnlyList<string>? LotHeats = null, string? CandidateSource = null, string? ReferenceSource = null)
{
    /// <summary>The kind that a history has most coupons of.</summary>
    public static PlannedKind MostTested(CouponTable history, string property, Func<CouponRow, bool>? among = null)
    {
        CouponRow? row = history.Rows.Where(r => r.State == CouponState.Valid && (among?.Invoke(r) ?? true))
            .GroupBy(r => (r.Grade, r.Route, r.Geometry, r.Orientation, r.TemperFamily)).MaxBy(g => g.Count())?.First();
        return new(row is null ? new TrendChoice(property) : new TrendChoice(property, row.Grade, row.Route, row.Orientation, row.Geometry, row.TemperFamily));
    }

    /// <summary>The kind of an enquiry: grade and route of its heats, form of its coupons where they are made, else the form most tested in that grade and route.</summary>
    public static PlannedKind Of(IBench bench, Enquiry enquiry, CouponTable history)
    {
        string[] lots = [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats];
        Heat[] heats = [.. bench.Heats().Where(h => lots.Contains(h.Name))];
        string? grade = Shared(heats.Select(h => h.Grade)), route = Shared(heats.Select(h => h.Route));
        CouponRow[] made = lots.Length == 0 ? [] : [.. bench.CouponTable(new(Heats: lots, Coupons: enquiry.Coupons.Count > 0 ? [.. enquiry.Coupons] : null)).Rows];
        string property = enquiry.Rule?.Property ?? PropertyTable.ImpactEnergy.Name;
        TrendChoice usual = MostTested(history, property, r => (grade is null || r.Grade == grade) && (route is null || r.Route == route) && !lots.Contains(r.Heat)).Choice;
        TrendChoice choice = new(property, grade ?? usual.Grade, route ?? usual.Route,
            Shared(made.Select(r => r.Orientation)) ?? usual.Orientation, Shared(made.Select(r => r.Geometry)) ?? usual.Geometry, Shared(made.Select(r => r.TemperFamily)) ?? usual.TemperFamily);
        string? SourceOf(IReadOnlyList<string> side) => Shared(heats.Where(h => side.Contains(h.Name)).Select(h => h.Source));
        return new(choice, Shared(made.Select(r => r.Treatment)), lots, SourceOf(enquiry.CandidateHeats), SourceOf(enquiry.ReferenceHeats));
    }

    /// <summary>The kind in words.</summary>
    public override string ToString() => string.Join(", ", new[] { Choice.Grade, Choice.Route, Choice.Geometry, Choice.Orientation is { } o ? $"orientation {o}" : null, Choice.TemperFamily is { } t ? $"{t} temper" : null }.OfType<string>().DefaultIfEmpty("all coupons"));

    private static string? Shared(IEnumerable<string?> values)
    {
        string?[] all = [.. values.Distinct(StringComparer.OrdinalIgnoreCase)];
        return all.Length == 1 ? all[0] : null;
    }
}
