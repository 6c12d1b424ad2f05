using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Meltwise.Casework.Planning;

/// <summary>Plans and allocations as JSON, by generated code.</summary>
public static class PlanJson
{
    private static readonly PlanJsonContext s_indented = new(new JsonSerializerOptions(PlanJsonContext.Default.Options)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    });

    /// <summary>The table of odds.</summary>
    public static string Write(PlanTable table) => JsonSerializer.Serialize(table, s_indented.PlanTable);

    /// <summary>The allocation with its key; keep it sealed.</summary>
    public static string Write(Allocation allocation) => JsonSerializer.Serialize(allocation, s_indented.Allocation);
}

/// <summary>Generated serialisation of plans.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(PlanTable))]
[JsonSerializable(typeof(Allocation))]
internal sealed partial class PlanJsonContext : JsonSerializerContext;
