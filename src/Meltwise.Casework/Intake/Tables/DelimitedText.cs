namespace Meltwise.Casework.Intake;

/// <summary>Comma-, semicolon- or tab-separated text, with quoted cells.</summary>
/// <remarks>RFC 4180: a quoted cell may hold separators, line breaks and doubled quotes. Beyond it, as people have files: any of the three separators, any line ending,
/// rows of unequal length, and a quote inside an unquoted cell taken as itself.</remarks>
internal static class DelimitedText
{
    private const int LinesLookedAt = 30;

    /// <summary>The separator that parts most of the first lines into most cells alike; a tab, semicolon or comma.</summary>
    public static char FindSeparator(string text)
    {
        char best = ',';
        int most = 0;
        foreach (char candidate in "\t;,")
        {
            List<RawRow> rows = [];
            Read(text, candidate, new(), LinesLookedAt, int.MaxValue, rows.Add);
            int score = rows.GroupBy(r => r.Cells.Length).Where(g => g.Key > 1).Select(g => g.Count() * (g.Key - 1)).DefaultIfEmpty(0).Max();
            if (score > most) (best, most) = (candidate, score);
        }
        return best;
    }

    /// <summary>Hands over each row that holds something. Returns the line of a quote that never closes, or 0.</summary>
    public static int Read(string text, char separator, TextPool pool, int mostRows, int mostCells, Action<RawRow> take)
    {
        List<string> cells = [];
        int at = 0;
        int line = 1;
        int taken = 0;
        while (at < text.Length && taken < mostRows)
        {
            int startLine = line;
            bool filled = false;
            cells.Clear();
            bool more = true;
            while (more)
            {
                ReadOnlySpan<char> cell = ReadCell(text, separator, ref at, ref line, out more, out bool unclosed);
                if (unclosed) return startLine;
                if (cells.Count <= mostCells) cells.Add(pool.Of(cell));
                filled |= !cell.IsEmpty;
            }
            if (!filled) continue;
            take(new(startLine, [.. cells]));
            taken++;
        }
        return 0;
    }

    private static ReadOnlySpan<char> ReadCell(string text, char separator, ref int at, ref int line, out bool more, out bool unclosed)
    {
        unclosed = false;
        int start = at;
        while (start < text.Length && text[start] == ' ') start++;
        if (start < text.Length && text[start] == '"')
        {
            string quoted = ReadQuoted(text, separator, start + 1, ref at, ref line, out more, out unclosed);
            return quoted.AsSpan().Trim();
        }
        int end = at;
        while (end < text.Length && text[end] != separator && text[end] is not ('\n' or '\r')) end++;
        ReadOnlySpan<char> cell = text.AsSpan(at, end - at).Trim();
        at = end;
        more = PassEnd(text, separator, ref at, ref line);
        return cell;
    }

    private static string ReadQuoted(string text, char separator, int from, ref int at, ref int line, out bool more, out bool unclosed)
    {
        System.Text.StringBuilder cell = new();
        int i = from;
        while (i < text.Length)
        {
            char c = text[i++];
            if (c == '"' && (i >= text.Length || text[i] != '"')) break;
            if (c == '"') i++;
            if (c == '\n') line++;
            cell.Append(c);
        }
        unclosed = i >= text.Length && text[^1] != '"';
        // What follows the closing quote belongs to the cell as it stands.
        while (i < text.Length && text[i] != separator && text[i] is not ('\n' or '\r')) cell.Append(text[i++]);
        at = i;
        more = PassEnd(text, separator, ref at, ref line);
        return cell.ToString();
    }

    // True when another cell of the row follows.
    private static bool PassEnd(string text, char separator, ref int at, ref int line)
    {
        if (at >= text.Length) return false;
        char c = text[at++];
        if (c == separator) return true;
        if (c == '\r' && at < text.Length && text[at] == '\n') at++;
        line++;
        return false;
    }
}
