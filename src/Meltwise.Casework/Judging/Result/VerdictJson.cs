using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Meltwise.Casework.Judging;

/// <summary>The verdict as JSON and back, by generated code (no reflection, so that the first verdict of a process is as fast as the next).</summary>
public static class VerdictJson
{
    private static readonly VerdictJsonContext s_indented = new(new JsonSerializerOptions(VerdictJsonContext.Default.Options)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    /// <summary>The verdict as indented JSON with the names of the command contract.</summary>
    public static string Write(Verdict verdict) => JsonSerializer.Serialize(verdict, s_indented.Verdict);

    /// <summary>Reads a stored verdict.</summary>
    /// <exception cref="ComparisonFaultException">The text is not a verdict of this program.</exception>
    public static Verdict Read(string json)
    {
        try
        {
            return JsonSerializer.Deserialize(json, s_indented.Verdict) ?? throw new ComparisonFaultException("The stored verdict is empty. Judge the enquiry again.");
        }
        catch (JsonException fault)
        {
            throw new ComparisonFaultException($"The stored verdict cannot be read at line {fault.LineNumber + 1}: it was written by another version, or was changed. Judge the enquiry again.");
        }
    }

    /// <summary>The JSON Schema (draft 2020-12) of the result.</summary>
    public static string Schema()
    {
        using Stream stream = typeof(VerdictJson).Assembly.GetManifestResourceStream("verdict.schema.json") ?? throw new System.Diagnostics.UnreachableException();
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}

/// <summary>Generated (de)serialisation of the verdict.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, UseStringEnumConverter = true, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(Verdict))]
internal sealed partial class VerdictJsonContext : JsonSerializerContext;

/// <summary>A number, or the words <c>more than N</c>.</summary>
internal sealed class NumberToSettleConverter : JsonConverter<NumberToSettle>
{
    private const string More = "more than ";

    public override NumberToSettle Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.Number ? new(reader.GetInt32())
        : reader.GetString() is { } text && text.StartsWith(More, StringComparison.Ordinal) && int.TryParse(text.AsSpan(More.Length), out int most) ? new(most, true)
        : throw new JsonException("Expected a number or 'more than N'.");

    public override void Write(Utf8JsonWriter writer, NumberToSettle value, JsonSerializerOptions options)
    {
        if (value.IsMore) writer.WriteStringValue(value.ToString());
        else writer.WriteNumberValue(value.Number);
    }
}

/// <summary>One heat as a text, several as a list.</summary>
internal sealed class HeatNamesConverter : JsonConverter<IReadOnlyList<string>>
{
    public override IReadOnlyList<string> Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType == JsonTokenType.String) return [reader.GetString()!];
        List<string> heats = [];
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray) heats.Add(reader.GetString()!);
        return heats;
    }

    public override void Write(Utf8JsonWriter writer, IReadOnlyList<string> value, JsonSerializerOptions options)
    {
        if (value.Count == 1)
        {
            writer.WriteStringValue(value[0]);
            return;
        }
        writer.WriteStartArray();
        foreach (string heat in value) writer.WriteStringValue(heat);
        writer.WriteEndArray();
    }
}
