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

    /// <summary>Groups in order; null where they have none.</summary>
    public IReadOnlyList<string>? Order { get; init; }

    /// <summary>Values of the ordered levels as they were typed, <c>520 | 540 | 580 °C</c>; null takes them as equally spaced.</summary>
    public string? LevelValues { get; init; }

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

    /// <summary>Computes the study from the bench as it is now.</summary>
    /// <exception cref="StudyFaultException">A column, group, property or margin that cannot be, or too few coupons; the message says what is missing.</exception>
    public static StoredStudy Compute(IBench bench, StudyChoice choice, DateTime nowUtc)
    {
        Property property = PropertyTable.Find(choice.Property) ?? throw new StudyFaultException($"“{choice.Property}” is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
        if (!MarginText.TryRead(choice.Margin, property, out Margin? margin, out string fault)) throw new StudyFaultException(fault);
        CouponTable table = choice.Where.Aggregate(StudyTable.OfBench(bench, property), (t, w) => t.Only(w.Key, w.Value));
        try
        {
            Study study = StudyAnalysis.Of(new() { Table = table, Rule = new DecisionRule { Property = property.Name, Margin = margin! }, By = choice.By, Control = choice.Control, Order = choice.Order, Levels = choice.LevelValues is { } values ? LevelScale.Read(values, choice.Order ?? []) : null });
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
