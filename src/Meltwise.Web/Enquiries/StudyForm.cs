using Meltwise.Casework.Studying;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>The lines on which a treatment study for a report is chosen.</summary>
public sealed class StudyForm
{
    public string? By { get; set; }

    public string? Control { get; set; }

    public string? Grade { get; set; }

    public string? Route { get; set; }

    public string? Orientation { get; set; }

    public string? Geometry { get; set; }

    public string? Margin { get; set; }

    /// <summary>Levels in order, parted by |.</summary>
    public string? Levels { get; set; }

    /// <summary>Their values in that order.</summary>
    public string? Values { get; set; }

    /// <summary>The choice that the lines tell.</summary>
    public StudyChoice Read(Property property) => new()
    {
        Property = property.Name,
        By = [Said(By) ?? "treatment"],
        Control = Said(Control),
        Margin = Said(Margin) ?? "0.80..1.25",
        Order = Said(Levels) is { } levels ? levels.Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries) : null,
        LevelValues = Said(Values),
        Where = new[] { ("grade", Said(Grade)), ("route", Said(Route)), ("orientation", Said(Orientation)), ("geometry", Said(Geometry)) }.Where(w => w.Item2 is not null).ToDictionary(w => w.Item1, w => w.Item2!),
    };

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
