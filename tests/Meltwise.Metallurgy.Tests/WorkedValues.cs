using System.Text.Json;
using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Tests;

/// <summary>The independent worked values under Oracles/property-chain.</summary>
internal static class WorkedValues
{
    private static readonly JsonDocument s_document = JsonDocument.Parse(
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "property-chain", "worked.json")));

    /// <summary>One block of the file.</summary>
    public static JsonElement Block(string name) => s_document.RootElement.GetProperty(name);

    /// <summary>A composition given as an object of element and mass percent; iron is skipped, being the balance.</summary>
    public static AlloyContent Alloy(JsonElement byElement)
    {
        AlloyContent alloy = default;
        foreach (JsonProperty p in byElement.EnumerateObject())
            if (p.Name != "Fe") alloy[Enum.Parse<AlloyElement>(p.Name)] = p.Value.GetDouble();
        return alloy;
    }
}
