using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Heats;

/// <summary>The lines on which a heat is written down or corrected.</summary>
internal sealed class HeatForm
{
    public string? Name { get; set; }

    public string? Source { get; set; }

    public string? Grade { get; set; }

    public string? Route { get; set; }

    public string? Consolidation { get; set; }

    public string? Product { get; set; }

    public string? Notes { get; set; }

    public string? Why { get; set; }

    /// <summary>The form filled with a heat.</summary>
    public static HeatForm Of(Heat heat) => new()
    {
        Name = heat.Name,
        Source = heat.Source,
        Grade = heat.Grade,
        Route = heat.Route,
        Consolidation = heat.Consolidation,
        Product = heat.Product,
        Notes = heat.Notes,
    };

    /// <summary>The changes: the heat, and its source and grade where the bench does not know them yet.</summary>
    public IEnumerable<BenchChange> Changes(IBench bench, DateOnly? received = null)
    {
        if (Said(Source) is { } source && !bench.Sources().Any(s => s.Name == source))
        {
            yield return new BenchChange.PutSource(new Source(source, NextLabel(bench)));
        }

        if (Said(Grade) is { } grade && !bench.Grades().Any(g => g.Name == grade))
        {
            yield return new BenchChange.PutGrade(new Grade(grade));
        }

        yield return new BenchChange.PutHeat(new Heat(
            Name!.Trim(), Said(Source), Said(Grade), Said(Route), Said(Consolidation), Said(Product), received, Said(Notes)));
    }

    // Shared views print a letter instead of the name: A, B, ..., Z, then numbers.
    private static string NextLabel(IBench bench)
    {
        int next = bench.Sources().Count;
        return next < 26 ? $"Source {(char)('A' + next)}" : $"Source {next + 1}";
    }

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
