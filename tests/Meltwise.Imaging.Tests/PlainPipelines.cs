using System.Globalization;

namespace Meltwise.Imaging.Tests;

/// <summary>Scores of the plain pipelines of general-purpose libraries, see Oracles/scikit-image/README.md.</summary>
internal sealed record PlainScore(string File, string Pipeline, double FractionTrue, double FractionError, double Dice, int CountTrue, double CountErrorPercent)
{
    public static IReadOnlyList<PlainScore> All { get; } = Read();

    /// <summary>Smallest absolute error of the fraction that any of the pipelines reached on a picture.</summary>
    public static double BestFractionError(string file) => All.Where(s => s.File == file).Min(s => Math.Abs(s.FractionError));

    /// <summary>Smallest absolute error of the count in percent.</summary>
    public static double BestCountErrorPercent(string file) => All.Where(s => s.File == file).Min(s => Math.Abs(s.CountErrorPercent));

    public static int CountOf(string file) => All.First(s => s.File == file).CountTrue;

    private static List<PlainScore> Read()
    {
        string[] lines = System.IO.File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Oracles", "scikit-image", "reference_scores.csv"));
        string[] head = lines[0].Split(',');
        int At(string name) => Array.IndexOf(head, name);
        double Number(string[] row, string name) => double.Parse(row[At(name)], CultureInfo.InvariantCulture);
        return [.. lines.Skip(1).Select(l => l.Split(',')).Select(r => new PlainScore(r[0].Split(' ')[0], r[1],
            Number(r, "fraction_true"), Number(r, "fraction_error"), Number(r, "dice"), (int)Number(r, "count_true"), Number(r, "count_error_pct")))];
    }
}
