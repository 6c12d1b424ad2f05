using System.Text.RegularExpressions;

namespace Meltwise.Publishing.Documents;

/// <summary>Tells which cells of a column are plain numbers, so that their decimal points stand under each other.</summary>
internal static partial class NumberColumn
{
    /// <summary>The point and what stands behind it, empty for an integer; null for a cell that is anything but one plain number.</summary>
    public static string? BehindPoint(Rich cell)
    {
        string text = cell.PlainText;
        if (!PlainNumber().IsMatch(text))
            return null;
        int point = text.IndexOf('.', StringComparison.Ordinal);
        return point < 0 ? "" : text[point..];
    }

    [GeneratedRegex(@"^[<>≤≥]?[\s\u00A0\u202F]?[+−-]?\d+(\.\d+)?$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex PlainNumber();
}
