namespace Meltwise.Casework.Intake;

/// <summary>Writes lines of comma-separated text (RFC 4180) that no spreadsheet takes as formulas.</summary>
internal static class DelimitedWriter
{
    private static readonly System.Buffers.SearchValues<char> s_needQuotes = System.Buffers.SearchValues.Create(",\"\r\n;\t");

    /// <summary>Writes one line.</summary>
    public static void WriteLine(TextWriter to, IEnumerable<string?> cells)
    {
        to.Write(string.Join(',', cells.Select(Quoted)));
        to.Write("\r\n");
    }

    /// <summary>Text of a person, with an apostrophe before signs that begin a formula.</summary>
    public static string? Safe(string? text) => text is [('=' or '+' or '-' or '@' or '\''), ..] ? "'" + text : text;

    private static string Quoted(string? cell) =>
        cell is null ? "" : cell.AsSpan().ContainsAny(s_needQuotes) ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
}
