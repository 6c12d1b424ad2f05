using System.Text.Json;
using System.Text.Json.Serialization;

namespace Meltwise.Metallurgy.Sources;

/// <summary>Reads the tables of published values that ship inside this library as JSON, each beside the method that uses it.</summary>
internal static class ShippedTable
{
    private static readonly JsonSerializerOptions s_options = new()
    {
        PropertyNameCaseInsensitive = true,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        Converters = { new JsonStringEnumConverter() },
    };

    /// <summary>The table stored under <paramref name="folderAndFile"/>, such as <c>Hardness.conversion.json</c>.</summary>
    public static T Read<T>(string folderAndFile)
    {
        string name = $"Meltwise.Metallurgy.{folderAndFile}";
        using Stream stream = typeof(ShippedTable).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The table {name} is missing from this build of Meltwise.Metallurgy.");
        return JsonSerializer.Deserialize<T>(stream, s_options)
            ?? throw new InvalidOperationException($"The table {name} is empty.");
    }
}
