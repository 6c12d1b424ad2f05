using System.Globalization;
using System.Text;
using static System.FormattableString;

namespace Meltwise.Calibrations;

/// <summary>A table of rates as a page of Markdown, and read back from it.</summary>
internal static class RatePage
{
    /// <summary>Runs the table at full size.</summary>
    public static string Of(RateTable table)
    {
        Rate[][] rates = [.. Enumerable.Range(0, table.Designs.Count).Select(row => table.Run(row, table.Designs[row].Replicates ?? table.Replicates))];
        StringBuilder page = new();
        page.AppendLine(CultureInfo.InvariantCulture, $"# {table.Title}").AppendLine().AppendLine(table.What).AppendLine();
        page.AppendLine(CultureInfo.InvariantCulture, $"`dotnet run -c Release --project bench/Meltwise.Bench -- {table.Name}`; {Replicates(table)} replicates a row, each rate with its Monte-Carlo standard error; all data simulated.").AppendLine();
        for (int c = 0; c < table.Columns.Count; c++) Worst(page, table, rates, c);
        page.AppendLine().AppendLine(CultureInfo.InvariantCulture, $"| design | {string.Join(" | ", table.Columns.Select(c => c.Name))} |");
        page.AppendLine(CultureInfo.InvariantCulture, $"| --- |{string.Concat(table.Columns.Select(_ => " --- |"))}");
        for (int row = 0; row < rates.Length; row++)
            page.AppendLine(CultureInfo.InvariantCulture, $"| {table.Designs[row].Name} | {string.Join(" | ", rates[row].Select(Text))} |");
        return page.ToString();
    }

    /// <summary>Rates of the page by row, in the order of its columns.</summary>
    public static IReadOnlyDictionary<string, Rate[]> Read(string page) => page.Split('\n')
        .Where(l => l.StartsWith("| ", StringComparison.Ordinal) && !l.StartsWith("| ---", StringComparison.Ordinal) && !l.StartsWith("| design", StringComparison.Ordinal))
        .Select(l => l.Trim().Trim('|').Split('|').Select(c => c.Trim()).ToArray())
        .ToDictionary(cells => cells[0], cells => cells.Skip(1).Select(Parse).ToArray(), StringComparer.Ordinal);

    private static string Replicates(RateTable table)
    {
        int[] each = [.. table.Designs.Select(d => d.Replicates ?? table.Replicates).Distinct().Order()];
        return each.Length == 1 ? Invariant($"{each[0]}") : Invariant($"{each[0]} to {each[^1]}");
    }

    private static void Worst(StringBuilder page, RateTable table, Rate[][] rates, int column)
    {
        RateColumn c = table.Columns[column];
        if (c.Keeps == Keeps.Told || rates.Where(r => r[column].Tried > 0).ToArray() is not { Length: > 0 } told) return;
        Rate worst = told.Select(r => r[column]).MaxBy(r => c.Excess(r.Value));
        page.AppendLine(CultureInfo.InvariantCulture, $"- {c.Name}: {(c.Keeps == Keeps.AtMost ? "at most" : "at least")} {c.Nominal:0.###} asked for; worst {Text(worst)}.");
    }

    private static string Text(Rate rate) => rate.Tried == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{rate.Value:F4} ± {rate.StandardError:F4}");

    private static Rate Parse(string cell)
    {
        if (cell.Length == 0) return new(double.NaN, 0);
        double[] parts = [.. cell.Split('±').Select(p => double.Parse(p, CultureInfo.InvariantCulture))];
        return new(parts[0], (long)Math.Round(Math.Max(parts[0] * (1 - parts[0]), 1e-6) / Math.Max(1e-10, parts[1] * parts[1])));
    }
}
