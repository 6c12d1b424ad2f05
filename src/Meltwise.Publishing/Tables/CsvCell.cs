namespace Meltwise.Publishing.Tables;

/// <summary>One cell of a CSV file.</summary>
public static class CsvCell
{
    /// <summary>The cell, quoted where RFC 4180 needs it. Text that begins like a formula gets a leading apostrophe, so that no spreadsheet runs it; numbers stay as they are.</summary>
    public static string Write(string text)
    {
        string safe = StartsLikeFormula(text) ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\r\n") >= 0 || safe.StartsWith(' ') || safe.EndsWith(' ') ? "\"" + safe.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : safe;
    }

    /// <summary>Undoes <see cref="Write"/> for the text of a cell whose quoting has been read.</summary>
    public static string Read(string cell) => cell.Length > 1 && cell[0] == '\'' && StartsLikeFormula(cell[1..]) ? cell[1..] : cell;

    /// <summary>Whether a spreadsheet could take the text for a formula. A plain number is not one. An apostrophe before such text counts too, so that writing and reading are inverse.</summary>
    public static bool StartsLikeFormula(string text)
    {
        if (text.Length == 0)
            return false;
        if (text[0] == '\'')
            return StartsLikeFormula(text[1..]);
        return text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' && !double.TryParse(text, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out _);
    }
}
