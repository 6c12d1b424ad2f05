using System.Globalization;
using System.Xml;

namespace Meltwise.Casework.Intake;

/// <summary>Reads the rows of one worksheet, forward only.</summary>
internal sealed class Worksheet(XmlReader xml, string[] texts, CellFormats formats, TextPool pool, TableLimits limits)
{
    private readonly List<RawRow> _rows = [];
    private readonly List<string> _cells = [];
    private readonly List<(int FromRow, int FromColumn, int ToRow, int ToColumn)> _merges = [];

    /// <summary>Reads the sheet; returns why it cannot be read, or null.</summary>
    public string? Read(string name, out RawSheet? sheet)
    {
        sheet = null;
        int row = 0;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element) continue;
            if (xml.LocalName == "row")
            {
                row = Number("r") ?? row + 1;
                if (_rows.Count >= limits.Rows) return string.Create(CultureInfo.InvariantCulture, $"more than {limits.Rows} rows");
                if (ReadRow(row) is { } why) return why;
            }
            else if (xml.LocalName == "mergeCell" && xml.GetAttribute("ref") is { } range && Range(range) is { } merge) _merges.Add(merge);
        }
        HashSet<(int, int)> merged = [];
        SpreadMerges(merged);
        sheet = new(name, [.. _rows.Where(r => Array.Exists(r.Cells, c => c.Length > 0))], merged);
        return null;
    }

    private string? ReadRow(int row)
    {
        _cells.Clear();
        if (!xml.IsEmptyElement)
        {
            int depth = xml.Depth;
            while (xml.Read() && xml.Depth > depth)
            {
                if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "c") continue;
                int column = xml.GetAttribute("r") is { } place ? ColumnOf(place) : _cells.Count;
                if (column >= limits.Columns) return string.Create(CultureInfo.InvariantCulture, $"a cell beyond column {limits.Columns}");
                while (_cells.Count <= column) _cells.Add("");
                _cells[column] = ReadCell();
                if (_cells[column].Length > limits.CellCharacters) return string.Create(CultureInfo.InvariantCulture, $"a cell of more than {limits.CellCharacters} characters");
            }
        }
        _rows.Add(new(row, [.. _cells]));
        return null;
    }

    private string ReadCell()
    {
        string type = xml.GetAttribute("t") ?? "n";
        int style = Number("s") ?? 0;
        if (xml.IsEmptyElement) return "";
        int depth = xml.Depth;
        string value = "";
        string formula = "";
        bool more = xml.Read();
        while (more && xml.Depth > depth)
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName is "v" or "t") value += xml.ReadElementContentAsString();
            else if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "f") formula = "=" + xml.ReadElementContentAsString();
            else if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "rPh") xml.Skip();
            else more = xml.Read();
        }
        return value.Length == 0 ? (type is "str" ? "" : formula) : pool.Of(Show(value, type, style).AsSpan().Trim());
    }

    private string Show(string value, string type, int style) => type switch
    {
        "s" => int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int i) && i < texts.Length ? texts[i] : value,
        "b" => value == "1" ? "TRUE" : "FALSE",
        "n" => double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && Math.Abs(number) < 1e28 ? formats.Show(number, style) : value,
        _ => value,
    };

    private void SpreadMerges(HashSet<(int, int)> merged)
    {
        if (_merges.Count == 0) return;
        Dictionary<int, int> at = _rows.Select((r, i) => (r.Number, i)).GroupBy(p => p.Number).ToDictionary(g => g.Key, g => g.First().i);
        foreach ((int fromRow, int fromColumn, int toRow, int toColumn) in _merges)
        {
            if (!at.TryGetValue(fromRow, out int first) || _rows[first][fromColumn] is not { Length: > 0 } value) continue;
            for (int row = fromRow; row <= Math.Min(toRow, fromRow + limits.Rows); row++)
            {
                // A row that holds nothing but a merged cell has no data of its own.
                if (!at.TryGetValue(row, out int index) || _rows[index].Filled == 0) continue;
                string[] cells = _rows[index].Cells;
                if (cells.Length <= toColumn && toColumn < limits.Columns) Array.Resize(ref cells, toColumn + 1);
                for (int column = fromColumn; column <= Math.Min(toColumn, cells.Length - 1); column++)
                {
                    cells[column] = string.IsNullOrEmpty(cells[column]) ? value : cells[column];
                    if (row != fromRow || column != fromColumn) merged.Add((row, column));
                }
                for (int column = 0; column < cells.Length; column++) cells[column] ??= "";
                _rows[index] = new(row, cells);
            }
        }
    }

    private int? Number(string attribute) => int.TryParse(xml.GetAttribute(attribute), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;

    private static (int, int, int, int)? Range(string text)
    {
        string[] ends = text.Split(':');
        return ends.Length == 2 && RowOf(ends[0]) is { } a && RowOf(ends[1]) is { } b ? (a, ColumnOf(ends[0]), b, ColumnOf(ends[1])) : null;
    }

    private static int? RowOf(string place) =>
        int.TryParse(place.AsSpan().TrimStart("ABCDEFGHIJKLMNOPQRSTUVWXYZ$"), NumberStyles.None, CultureInfo.InvariantCulture, out int row) ? row : null;

    private static int ColumnOf(string place)
    {
        int column = 0;
        foreach (char c in place)
        {
            if (!char.IsAsciiLetterUpper(c)) break;
            column = Math.Min((column * 26) + (c - 'A' + 1), 1_000_000);
        }
        return Math.Max(column - 1, 0);
    }
}
