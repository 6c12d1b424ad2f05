using System.Text.Json;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Statistics;

namespace Meltwise.Casework.Studying;

/// <summary>Which groups of the bench a study compares, in words that can be kept and asked again.</summary>
public sealed record StudyChoice
{
    /// <summary>Property.</summary>
    public required string Property { get; init; }

    /// <summary>Columns whose values make the groups.</summary>
    public required IReadOnlyList<string> By { get; init; }

    /// <summary>The control group; null compares all pairs.</summary>
    public string? Control { get; init; }

    /// <summary>Groups in order, equally spaced levels; null where they have none.</summary>
    public IReadOnlyList<string>? Order { get; init; }

    /// <summary>Only coupons with these values, by column.</summary>
    public IReadOnlyDictionary<string, string> Where { get; init; } = new Dictionary<string, string>();

    /// <summary>The margin as it was typed: <c>15%</c>, <c>0.80..1.25</c>, <c>3 J</c>.</summary>
    public required string Margin { get; init; }
}

/// <summary>A study kept with an enquiry.</summary>
/// <param name="Choice">What was compared.</param>
/// <param name="Result">What came out.</param>
/// <param name="AtUtc">When it was computed.</param>
/// <param name="Coupons">Coupons of the bench that the choice left.</param>
public sealed record StoredStudy(StudyChoice Choice, Study Result, DateTime AtUtc, int Coupons);

/// <summary>A treatment study of the bench that belongs to the report of an enquiry.</summary>
public static class EnquiryStudy
{
    /// <summary>Kind of the stored document.</summary>
    public const string DocumentKind = "study";

    private static readonly Dictionary<string, Func<CouponRow, string?>> s_filters = new(StringComparer.OrdinalIgnoreCase)
    {
        ["treatment"] = r => r.Treatment,
        ["temper family"] = r => r.TemperFamily,
        ["route"] = r => r.Route,
        ["source"] = r => r.Source,
        ["grade"] = r => r.Grade,
        ["orientation"] = r => r.Orientation,
        ["geometry"] = r => r.Geometry,
        ["heat"] = r => r.Heat,
        ["load"] = r => r.Load,
        ["session"] = r => r.Session,
    };

    /// <summary>Columns that a study can be narrowed by.</summary>
    public static IReadOnlyCollection<string> Filters => s_filters.Keys;

    /// <summary>The coupons of a table with this value in a column, without case.</summary>
    /// <exception cref="StudyFaultException">No such column.</exception>
    public static CouponTable Only(CouponTable table, string column, string value)
    {
        if (!s_filters.TryGetValue(column, out Func<CouponRow, string?>? cell))
            throw new StudyFaultException($"“{column}” is no column to choose by; {string.Join(", ", s_filters.Keys)} are.");
        return table with { Rows = [.. table.Rows.Where(r => string.Equals(cell(r), value, StringComparison.OrdinalIgnoreCase))] };
    }

    /// <summary>Coupons of the bench with a reading of a property, each treatment by its name where its set values have one.</summary>
    public static CouponTable Table(IBench bench, string property)
    {
        Dictionary<string, string> names = bench.Treatments().GroupBy(t => t.SetValues, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First().Name, StringComparer.Ordinal);
        CouponTable table = bench.CouponTable(new CouponSelection(Property: property));
        return table with { Name = "the bench", Rows = [.. table.Rows.Select(r => r with { Treatment = r.Treatment is { } set ? names.GetValueOrDefault(set, set) : null })] };
    }

    /// <summary>Computes the study from the bench as it is now.</summary>
    /// <exception cref="StudyFaultException">A column, group, property or margin that cannot be, or too few coupons; the message says what is missing.</exception>
    public static StoredStudy Compute(IBench bench, StudyChoice choice, DateTime nowUtc)
    {
        Property property = PropertyTable.Find(choice.Property) ?? throw new StudyFaultException($"“{choice.Property}” is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
        if (!MarginText.TryRead(choice.Margin, property, out Margin? margin, out string fault)) throw new StudyFaultException(fault);
        CouponTable table = choice.Where.Aggregate(Table(bench, property.Name), (t, w) => Only(t, w.Key, w.Value));
        try
        {
            Study study = StudyAnalysis.Of(new() { Table = table, Rule = new DecisionRule { Property = property.Name, Margin = margin! }, By = choice.By, Control = choice.Control, Order = choice.Order });
            return new(choice with { Property = property.Name }, study, nowUtc, table.Rows.Count);
        }
        catch (Exception refused) when (refused is InsufficientDataException or ComparisonFaultException)
        {
            throw new StudyFaultException(refused.Message);
        }
    }

    /// <summary>The change that keeps a study with its enquiry.</summary>
    public static BenchChange Keep(Enquiry enquiry, StoredStudy study) =>
        new BenchChange.PutDocument(new StoredDocument(enquiry.Name, DocumentKind, StudyJson.Write(study), study.AtUtc));

    /// <summary>The change that takes the study out of the report again.</summary>
    public static BenchChange Drop(Enquiry enquiry, DateTime nowUtc) => new BenchChange.PutDocument(new StoredDocument(enquiry.Name, DocumentKind, "", nowUtc));

    /// <summary>The kept study, or null when there is none or another version wrote it.</summary>
    public static StoredStudy? Stored(IBench bench, string enquiry)
    {
        if (bench.FindDocument(enquiry, DocumentKind) is not { Json.Length: > 0 } document) return null;
        try
        {
            return StudyJson.ReadStored(document.Json);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
