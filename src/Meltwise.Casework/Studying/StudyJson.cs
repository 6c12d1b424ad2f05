using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Meltwise.Casework.Studying;

/// <summary>A study as JSON, by generated code.</summary>
public static class StudyJson
{
    private static readonly StudyJsonContext s_indented = new(new JsonSerializerOptions(StudyJsonContext.Default.Options)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    /// <summary>The study.</summary>
    public static string Write(Study study) => JsonSerializer.Serialize(study, s_indented.Study);

    /// <summary>A study kept with an enquiry.</summary>
    public static string Write(StoredStudy study) => JsonSerializer.Serialize(study, s_indented.StoredStudy);

    /// <summary>Reads what <see cref="Write(StoredStudy)"/> wrote.</summary>
    /// <exception cref="JsonException">It is of another form.</exception>
    public static StoredStudy? ReadStored(string json) => JsonSerializer.Deserialize(json, s_indented.StoredStudy);
}

/// <summary>Generated serialisation of studies.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(Study))]
[JsonSerializable(typeof(StoredStudy))]
internal sealed partial class StudyJsonContext : JsonSerializerContext;
