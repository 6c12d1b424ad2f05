using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Meltwise.Storage.Records;

/// <summary>The nested part of a record (steps of a treatment, a hot history, an enquiry's sheet) as the trail shows it: names and values, without the marks of JSON.</summary>
internal static class NestedWords
{
    /// <summary>Text of a cell: nested values as <c>kind consolidation, from c 1120, hours 3</c>, the items of a list separated by a vertical bar; any other text as it is.</summary>
    public static string Of(object value)
    {
        string text = Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
        if (text.Length == 0 || text[0] is not ('{' or '[')) return text;
        try
        {
            using JsonDocument nested = JsonDocument.Parse(text);
            return Words(nested.RootElement);
        }
        catch (JsonException)
        {
            return text; // a note that a person began with a bracket
        }
    }

    private static string Words(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Array => string.Join(" | ", value.EnumerateArray().Select(Words)),
        JsonValueKind.Object => string.Join(", ", value.EnumerateObject().Where(p => !IsEmpty(p.Value)).Select(p => $"{Spaced(p.Name)} {Words(p.Value)}")),
        JsonValueKind.String => value.GetString() ?? "",
        JsonValueKind.True => "yes",
        JsonValueKind.False => "no",
        _ => value.GetRawText(),
    };

    private static bool IsEmpty(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Null => true,
        JsonValueKind.Array => value.GetArrayLength() == 0,
        JsonValueKind.Object => !value.EnumerateObject().Any(),
        _ => false,
    };

    private static string Spaced(string name)
    {
        StringBuilder words = new(name.Length + 8);
        foreach (char c in name.TrimStart('$'))
        {
            if (char.IsUpper(c) && words.Length > 0) words.Append(' ');
            words.Append(char.ToLowerInvariant(c));
        }
        return words.ToString();
    }
}
