using System.Text.Json;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

internal static class EquilibriumFiles
{
    internal static JsonElement Oracle(string file) => Read(Path.Combine("Oracles", "equilibrium", file));

    internal static JsonElement Published(string file) => Read(Path.Combine("Published", "equilibrium", file));

    private static JsonElement Read(string path)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, path)));
        return document.RootElement.Clone();
    }
}
