using System.Text;

namespace Meltwise.Publishing.Figures;

/// <summary>Writes the data of a figure as a table file.</summary>
public static class FigureCsv
{
    /// <summary>CSV with a heading, RFC 4180 quoting, and text cells that a spreadsheet would run as a formula made harmless by a leading apostrophe.</summary>
    public static string Write(FigureData data)
    {
        StringBuilder csv = new();
        csv.AppendJoin(',', data.Columns.Select(Tables.CsvCell.Write)).Append("\r\n");
        foreach (IReadOnlyList<string> row in data.Rows)
            csv.AppendJoin(',', row.Select(Tables.CsvCell.Write)).Append("\r\n");
        return csv.ToString();
    }
}
