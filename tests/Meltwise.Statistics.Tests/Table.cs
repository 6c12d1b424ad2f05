using System.Globalization;

namespace Meltwise.Statistics.Tests;

/// <summary>A comma-separated data set beside the test program, columns by name.</summary>
internal sealed class Table
{
    private readonly Dictionary<string, string[]> _columns = [];

    public Table(params string[] path)
    {
        string[][] rows = [.. File.ReadAllLines(Oracle.PathOf(path)).Where(l => l.Length > 0).Select(l => l.Split(',').Select(c => c.Trim('"')).ToArray())];
        for (int j = 0; j < rows[0].Length; j++) _columns[rows[0][j]] = [.. rows.Skip(1).Select(r => r[j])];
    }

    public IEnumerable<string> Columns => _columns.Keys;

    public string[] Text(string column) => _columns[column];

    public double[] Numbers(string column) => [.. _columns[column].Select(t => double.Parse(t, CultureInfo.InvariantCulture))];

    public double[] Is(string column, string value) => [.. _columns[column].Select(t => t == value ? 1.0 : 0.0)];

    public static Table Published(string file) => new("Published", "datasets", file);

    public static Table MadeUp(string file) => new("Oracles", "made-up", file);
}
