using System.Text.Json;

namespace Meltwise.Statistics.Tests;

/// <summary>NIST Statistical Reference Datasets, https://www.itl.nist.gov/div898/strd/ : data and certified values in Published/nist-strd.</summary>
internal static class Nist
{
    public static JsonElement Read(string name)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Published", "nist-strd", name + ".json")));
        return document.RootElement.Clone();
    }

    /// <summary>Groups of an analysis-of-variance set; the large ones are stored as the rule that makes them, in decimal arithmetic.</summary>
    public static IReadOnlyList<IReadOnlyList<double>> Groups(JsonElement set)
    {
        JsonElement data = set.GetProperty("data");
        if (data.TryGetProperty("y", out JsonElement rows))
            return [.. rows.EnumerateArray().Select(r => (IReadOnlyList<double>)r.Numbers())];
        decimal origin = data.GetProperty("base").GetDecimal();
        int replicates = data.GetProperty("replicates_per_treatment").GetInt32();
        return [.. data.GetProperty("offset").EnumerateArray().Select(o => (IReadOnlyList<double>)[.. Enumerable.Range(0, replicates)
            .Select(q => (double)(origin + o.GetDecimal() + (q == 0 ? 0m : q % 2 == 1 ? -0.1m : 0.1m)))])];
    }
}
