using Meltwise.Casework.Recording;
using Meltwise.Casework.Studying;
using Meltwise.Casework.Trending;
using Meltwise.Domain;
using Microsoft.AspNetCore.Http;

namespace Meltwise.Web.Study;

/// <summary>What a study compares, as the address of its page says it.</summary>
public sealed class StudyQuery
{
    private readonly IReadOnlyList<CouponRow> _rows;
    private readonly CouponTable _chosen;

    private StudyQuery(Property property, CouponTable table, string by, string? andBy, TrendChoice kind, string? treatment, string? heat, string? control, string marginText, string levels, string values)
    {
        (Property, By, AndBy, Kind, Treatment, Heat, MarginText, Levels, Values) = (property, by, andBy == by ? null : andBy, kind, treatment, heat, marginText, levels, values);
        _rows = table.Rows;
        _chosen = table with { Rows = [.. _rows.Where(r => kind.Misses(r) is null && (treatment is null || r.Treatment == treatment) && (heat is null || r.Heat == heat))] };
        Groups = [.. _chosen.Rows.Select(GroupOf).OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        Control = Groups.Contains(control) ? control : null;
    }

    public Property Property { get; }

    /// <summary>Column that makes the groups.</summary>
    public string By { get; }

    /// <summary>A second one, or null.</summary>
    public string? AndBy { get; }

    public TrendChoice Kind { get; }

    public string? Treatment { get; }

    public string? Heat { get; }

    /// <summary>The group that all others are compared with; null compares all pairs.</summary>
    public string? Control { get; }

    public string MarginText { get; }

    /// <summary>Levels in order as typed; empty where they have none.</summary>
    public string Levels { get; }

    /// <summary>Values of the levels as typed; empty where they are taken as equally spaced.</summary>
    public string Values { get; }

    /// <summary>The levels in order.</summary>
    public IReadOnlyList<string> InOrder => Levels.Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    /// <summary>Groups among the chosen coupons.</summary>
    public IReadOnlyList<string> Groups { get; }

    public static StudyQuery Of(IQueryCollection asked, IBench bench)
    {
        string? Said(string name) => asked[name].ToString() is { Length: > 0 and <= 500 } text ? text.Trim() : null;
        Property property = PropertyTable.Find(Said("property") ?? "") ?? PropertyTable.ImpactEnergy;
        CouponTable table = StudyTable.OfBench(bench, property);
        string by = StudyTable.Columns.FirstOrDefault(c => c == Said("by")) ?? "treatment";
        TrendChoice kind = Said("by") is null ? Usual(property, table.Rows) : new(property.Name, Said("grade"), Said("route"), Said("orientation"), Said("geometry"));
        string margin = Said("margin") ?? (property.Scale == PropertyScale.Logarithmic ? "25%" : $"1 {property.StoredUnit.Name}");
        return new(property, table, by, StudyTable.Columns.FirstOrDefault(c => c == Said("and")), kind, Said("treatment"), Said("heat"), Said("control"), margin, Said("levels") ?? "", Said("values") ?? "");
    }

    /// <summary>Values of a column among all coupons read for the property.</summary>
    public IReadOnlyList<string> ValuesOf(Func<CouponRow, string?> of) => [.. _rows.Select(of).OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];

    /// <summary>The study.</summary>
    /// <exception cref="StudyFaultException">The margin cannot be read.</exception>
    public StudyRequest Request()
    {
        if (!Casework.Asking.MarginText.TryRead(MarginText, Property, out Margin? margin, out string fault))
        {
            throw new StudyFaultException(fault);
        }

        IReadOnlyList<string> levels = InOrder;
        return new()
        {
            Table = _chosen,
            Rule = new DecisionRule { Property = Property.Name, Margin = margin! },
            By = AndBy is null ? [By] : [By, AndBy],
            Control = levels.Count == 0 || Control is not null && levels.Contains(Control) ? Control : null,
            Order = levels.Count > 0 ? levels : null,
            Levels = Values.Length > 0 ? LevelScale.Read(Values, levels) : null,
        };
    }

    // On a first look the kind that the bench has tested in most treatments.
    private static TrendChoice Usual(Property property, IReadOnlyList<CouponRow> rows)
    {
        var most = rows.GroupBy(r => (r.Grade, r.Route, r.Orientation, r.Geometry)).MaxBy(g => (g.Select(r => r.Treatment).Distinct().Count(), g.Count()));
        return most is null ? new(property.Name) : new(property.Name, most.Key.Grade, most.Key.Route, most.Key.Orientation, most.Key.Geometry);
    }

    private string? GroupOf(CouponRow row)
    {
        string?[] parts = AndBy is null ? [StudyTable.ValueOf(row, By)] : [StudyTable.ValueOf(row, By), StudyTable.ValueOf(row, AndBy)];
        return parts.Contains(null) ? null : string.Join(" / ", parts);
    }
}
