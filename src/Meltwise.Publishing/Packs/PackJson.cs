using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using Meltwise.Domain;

namespace Meltwise.Publishing.Packs;

/// <summary>JSON of the files of a pack.</summary>
internal static class PackJson
{
    /// <summary>Options: camel case, enums by name, closed sets by a <c>kind</c>.</summary>
    public static JsonSerializerOptions Options { get; } = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        MaxDepth = 32,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower) },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver { Modifiers = { ClosedSets } },
    };

    private static void ClosedSets(JsonTypeInfo type)
    {
        Type[] cases = type.Type == typeof(TreatmentStep) ? [typeof(TreatmentStep.Preheat), typeof(TreatmentStep.Austenitize), typeof(TreatmentStep.Quench), typeof(TreatmentStep.SubZero), typeof(TreatmentStep.Temper)]
            : type.Type == typeof(Margin) ? [typeof(Margin.Ratio), typeof(Margin.Absolute), typeof(Margin.InHardness)] : [];
        if (cases.Length == 0)
            return;
        type.PolymorphismOptions = new() { TypeDiscriminatorPropertyName = "kind" };
        foreach (Type one in cases)
            type.PolymorphismOptions.DerivedTypes.Add(new(one, JsonNamingPolicy.KebabCaseLower.ConvertName(one.Name)));
    }
}
