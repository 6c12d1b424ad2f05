using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Meltwise.Casework.Picturing;

/// <summary>Figures and comparisons of pictures as JSON and back. Property names are part of the format of the bench.</summary>
public static class PicturingJson
{
    private static readonly PicturingJsonContext s_context = new(new JsonSerializerOptions(PicturingJsonContext.Default.Options) { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });

    /// <summary>As JSON.</summary>
    public static string Write(PictureFigures figures) => JsonSerializer.Serialize(figures, s_context.PictureFigures);

    /// <summary>As JSON.</summary>
    public static string Write(StructureDocument document) => JsonSerializer.Serialize(document, s_context.StructureDocument);

    /// <summary>Reads figures; null when another version wrote them in another form.</summary>
    public static PictureFigures? TryReadFigures(string json) => TryRead(json, s_context.PictureFigures);

    /// <summary>Reads a comparison; null when another version wrote it in another form.</summary>
    public static StructureDocument? TryReadStructure(string json) => TryRead(json, s_context.StructureDocument);

    private static T? TryRead<T>(string json, System.Text.Json.Serialization.Metadata.JsonTypeInfo<T> type)
        where T : class
    {
        try
        {
            return JsonSerializer.Deserialize(json, type);
        }
        catch (JsonException)
        {
            // Derived from originals and records: what cannot be read is measured again.
            return null;
        }
    }
}

/// <summary>Generated (de)serialisation.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, UseStringEnumConverter = true)]
[JsonSerializable(typeof(PictureFigures))]
[JsonSerializable(typeof(StructureDocument))]
internal sealed partial class PicturingJsonContext : JsonSerializerContext;
