namespace Meltwise.Cli.Terminal;

/// <summary>Widths of the columns of a table on a terminal: every cell in one line where there is room; otherwise heads and columns of words are broken at their blanks, numbers never.</summary>
internal static class ColumnWidths
{
    /// <summary>Chooses the widths.</summary>
    /// <param name="head">Headings.</param>
    /// <param name="rows">Cells.</param>
    /// <param name="isNumber">Which columns hold numbers.</param>
    /// <param name="room">Characters for all columns together.</param>
    public static int[] Choose(IReadOnlyList<string> head, IReadOnlyList<IReadOnlyList<string>> rows, IReadOnlyList<bool> isNumber, int room)
    {
        int[] widest = [.. head.Select((h, i) => Math.Max(h.Length, Cells(rows, i).Select(c => c.Length).DefaultIfEmpty().Max()))];
        int[] least = [.. head.Select((h, i) => Math.Max(LongestWord(h), Cells(rows, i).Select(c => isNumber[i] ? c.Length : LongestWord(c)).DefaultIfEmpty().Max()))];
        int[] widths = [.. widest];
        while (widths.Sum() > room)
        {
            // The column that can give most gives first, so that no column is broken more often than another.
            int wide = Enumerable.Range(0, widths.Length).MaxBy(i => widths[i] - least[i]);
            if (widths[wide] <= least[wide]) break;
            widths[wide]--;
        }
        return widths;
    }

    private static IEnumerable<string> Cells(IReadOnlyList<IReadOnlyList<string>> rows, int column) => rows.Select(r => column < r.Count ? r[column] : "");

    private static int LongestWord(string text) => text.Split(' ').Max(w => w.Length);
}
