using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>JSON of the records that nest: the steps of a treatment and the sheet of an enquiry. Property names are part of the format of the bench.</summary>
internal static class BenchJson
{
    private static readonly JsonSerializerOptions s_options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
        Converters =
        {
            new OneOf<TreatmentStep>("step", typeof(TreatmentStep.Preheat), typeof(TreatmentStep.Austenitize), typeof(TreatmentStep.Quench), typeof(TreatmentStep.SubZero), typeof(TreatmentStep.Temper)),
            new OneOf<Margin>("margin", typeof(Margin.Ratio), typeof(Margin.Absolute), typeof(Margin.InHardness)),
            new JsonStringEnumConverter(JsonNamingPolicy.CamelCase),
        },
    };

    public static string Write<T>(T value) => JsonSerializer.Serialize(value, s_options);

    public static T Read<T>(string json) =>
        JsonSerializer.Deserialize<T>(json, s_options) ?? throw new JsonException($"The bench holds an empty {typeof(T).Name}.");

    /// <summary>One case of a closed set: its name first, then its own properties.</summary>
    private sealed class OneOf<TBase>(string tag, params Type[] cases) : JsonConverter<TBase>
        where TBase : class
    {
        public override TBase Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
        {
            using JsonDocument document = JsonDocument.ParseValue(ref reader);
            string? name = document.RootElement.GetProperty(tag).GetString();
            Type type = Array.Find(cases, c => NameOf(c) == name) ?? throw new JsonException($"The bench holds an unknown {tag}: {name}.");
            return (TBase)document.RootElement.Deserialize(type, options)!;
        }

        public override void Write(Utf8JsonWriter writer, TBase value, JsonSerializerOptions options)
        {
            writer.WriteStartObject();
            writer.WriteString(tag, NameOf(value.GetType()));
            using JsonDocument body = JsonSerializer.SerializeToDocument(value, value.GetType(), options);
            foreach (JsonProperty property in body.RootElement.EnumerateObject()) property.WriteTo(writer);
            writer.WriteEndObject();
        }

        private static string NameOf(Type type) => JsonNamingPolicy.CamelCase.ConvertName(type.Name);
    }
}
