using System.Text;

namespace Meltwise.Publishing.Tables;

/// <summary>Data tables as CSV (RFC 4180, UTF-8 with a byte order mark, so that spreadsheets read µ and °) and back.</summary>
public static class CsvTable
{
    /// <summary>The file.</summary>
    public static byte[] Write(DataTable table)
    {
        StringBuilder csv = new("\uFEFF");
        csv.AppendJoin(',', table.Columns.Select(c => CsvCell.Write(c.Name))).Append("\r\n");
        foreach (IReadOnlyList<string?> row in table.Rows)
            csv.AppendJoin(',', row.Select(c => CsvCell.Write(c ?? ""))).Append("\r\n");
        return Encoding.UTF8.GetBytes(csv.ToString());
    }

    /// <summary>Rows of cells of a file written by <see cref="Write"/>; the first row is the heading, an empty cell is null.</summary>
    /// <exception cref="FormatException">A quote is not closed, or a row has another number of cells than the heading. The message names the row.</exception>
    public static IReadOnlyList<IReadOnlyList<string?>> Read(byte[] file)
    {
        string text = Encoding.UTF8.GetString(file).TrimStart('\uFEFF');
        List<IReadOnlyList<string?>> rows = [];
        int at = 0;
        while (at < text.Length)
        {
            List<string?> row = [];
            do
                row.Add(Cell(text, ref at, rows.Count + 1));
            while (at < text.Length && text[at - 1] == ',');
            if (at == text.Length && text[^1] == ',')
                row.Add(null);
            if (rows.Count > 0 && row.Count != rows[0].Count)
                throw new FormatException($"Row {rows.Count + 1} has {row.Count} cells, the heading has {rows[0].Count}.");
            rows.Add(row);
        }
        return rows;
    }

    // Reads one cell and leaves the place behind the comma or the line end.
    private static string? Cell(string text, ref int at, int row)
    {
        StringBuilder cell = new();
        if (text[at] == '"')
        {
            for (at++; ; at++)
            {
                if (at >= text.Length)
                    throw new FormatException($"Row {row} opens a quote that is never closed.");
                if (text[at] != '"')
                    cell.Append(text[at]);
                else if (at + 1 < text.Length && text[at + 1] == '"')
                    cell.Append(text[at++]);
                else
                    break;
            }
            at++;
        }
        while (at < text.Length && text[at] is not (',' or '\r' or '\n'))
            cell.Append(text[at++]);
        if (at < text.Length && text[at] == '\r')
            at++;
        if (at < text.Length)
            at++;
        return cell.Length == 0 ? null : CsvCell.Read(cell.ToString());
    }
}
