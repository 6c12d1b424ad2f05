using System.Globalization;
using System.Text.Json;

namespace Meltwise.Statistics.Tests;

/// <summary>Reads the stored oracle files beside the test program; see Oracles/statistics/README.md.</summary>
internal static class Oracle
{
    public static JsonElement Read(string file)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(PathOf("Oracles", "statistics", file)));
        return document.RootElement.Clone();
    }

    public static string PathOf(params string[] parts) => Path.Combine([AppContext.BaseDirectory, .. parts]);

    /// <summary>A number stored as a JSON number or as a decimal string.</summary>
    public static double Number(this JsonElement element, string name) => element.GetProperty(name).Number();

    public static double Number(this JsonElement element) => element.ValueKind == JsonValueKind.String
        ? double.Parse(element.GetString()!, NumberStyles.Float, CultureInfo.InvariantCulture)
        : element.GetDouble();

    public static double[] Numbers(this JsonElement element, string name) => element.GetProperty(name).Numbers();

    public static double[] Numbers(this JsonElement element) => [.. element.EnumerateArray().Select(e => e.Number())];

    public static string Text(this JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
