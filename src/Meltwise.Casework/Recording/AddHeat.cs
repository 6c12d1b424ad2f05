using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Records a heat, with its source and grade where they are new.</summary>
public sealed class AddHeat(IBench bench)
{
    /// <summary>Adds a heat, or corrects it with a reason.</summary>
    /// <param name="heat">The heat; unknown fields are null.</param>
    /// <param name="hand">Who.</param>
    /// <param name="why">Reason, needed when something recorded is altered.</param>
    public Outcome<Heat> Run(Heat heat, Hand hand, string? why = null)
    {
        if (string.IsNullOrWhiteSpace(heat.Name)) return Outcome<Heat>.Refused("The heat has no name. Give the number on its certificate, or your own.");
        List<BenchChange> changes = [];
        IReadOnlyList<Source> sources = bench.Sources();
        if (heat.Source is { } source && sources.All(s => s.Name != source)) changes.Add(new BenchChange.PutSource(new(source, PublicLabels.Next(sources))));
        if (heat.Grade is { } grade && bench.Grades().All(g => g.Name != grade)) changes.Add(new BenchChange.PutGrade(new(grade)));
        changes.Add(new BenchChange.PutHeat(heat));
        bench.Commit(hand.By, why, changes);
        string[] unknown = [.. new[] { ("source", heat.Source), ("grade", heat.Grade), ("route", heat.Route) }.Where(p => p.Item2 is null).Select(p => p.Item1)];
        return Outcome<Heat>.Stored(heat, unknown.Length == 0 ? [] : [Finding.Note($"Unknown: {string.Join(", ", unknown)}. Unknown does not match known in a comparison.")]);
    }
}

/// <summary>Labels that stand for sources in what others see: Source A, Source B, ...</summary>
internal static class PublicLabels
{
    public static string Next(IEnumerable<Source> sources)
    {
        HashSet<string> used = [.. sources.Select(s => s.PublicLabel)];
        return Enumerable.Range(0, int.MaxValue).Select(i => i < 26 ? $"Source {(char)('A' + i)}" : string.Create(CultureInfo.InvariantCulture, $"Source {i + 1}")).First(l => !used.Contains(l));
    }
}
