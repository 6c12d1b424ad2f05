using System.Globalization;

namespace Meltwise.Bench;

/// <summary>A made-up input of the races, columns by name.</summary>
internal sealed class InputTable
{
    private readonly Dictionary<string, string[]> _columns = [];

    public InputTable(string folder, string file)
    {
        string[][] rows = [.. File.ReadAllLines(Path.Combine(folder, file)).Where(l => l.Length > 0).Select(l => l.Split(','))];
        for (int j = 0; j < rows[0].Length; j++) _columns[rows[0][j]] = [.. rows.Skip(1).Select(r => r[j])];
    }

    public string[] Text(string column) => _columns[column];

    public double[] Numbers(string column) => [.. _columns[column].Select(t => double.Parse(t, CultureInfo.InvariantCulture))];

    public double[] Is(string column, string value) => [.. _columns[column].Select(t => t == value ? 1.0 : 0.0)];
}
