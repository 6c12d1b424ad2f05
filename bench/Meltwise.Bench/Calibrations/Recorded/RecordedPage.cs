using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Meltwise.Calibrations;

/// <summary>All recorded rates beside the product's, as a page of Markdown.</summary>
internal static class RecordedPage
{
    private const double Beyond = 3;

    /// <summary>Runs every kind at full size.</summary>
    /// <param name="json">The file of recorded rates.</param>
    public static string Of(string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        StringBuilder page = new();
        page.AppendLine("# Rates of another program's simulation").AppendLine();
        page.AppendLine(CultureInfo.InvariantCulture, $"Every row of `{RecordedRates.File}` (numpy, its own generator, 10000 to 40000 replicates) that the product can produce, simulated by the product's own steps. A difference is held against three combined Monte-Carlo errors, beyond the allowance that a kind owns up to; of rates that agree 0.3 % lie beyond by chance.").AppendLine();
        page.AppendLine("`dotnet run -c Release --project bench/Meltwise.Bench -- recorded-rates`; all data simulated.").AppendLine();
        page.AppendLine("| kind | rows | replicates a row | rates | allowance | beyond 3 errors | farthest, errors | mean difference, points |").AppendLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        StringBuilder far = new(), how = new();
        foreach (RecordedKind kind in RecordedRates.Of(document.RootElement))
        {
            RecordedDifference[] all = [.. Enumerable.Range(0, kind.Table.Designs.Count).SelectMany(row => kind.Compare(row, kind.Table.Replicates))];
            RecordedDifference[] beyond = [.. all.Where(d => d.Errors > Beyond).OrderByDescending(d => d.Errors)];
            page.AppendLine(CultureInfo.InvariantCulture, $"| {kind.Kind} | {kind.Table.Designs.Count} | {kind.Table.Replicates} | {all.Length} | {kind.Allowance:0.###} | {beyond.Length} | {all.Max(d => d.Errors):0.0} | {100 * all.Average(d => d.Ours - d.Recorded):0.00} |");
            how.AppendLine(CultureInfo.InvariantCulture, $"- {kind.Kind}: {kind.How}");
            foreach (RecordedDifference d in beyond) far.AppendLine(CultureInfo.InvariantCulture, $"| {kind.Kind} | {d.Name} | {d.Recorded:F4} | {d.Ours:F4} | {d.Error:F4} | {d.Errors:0.0} |");
        }
        page.AppendLine().Append(how).AppendLine();
        page.AppendLine("## Beyond three errors").AppendLine().AppendLine("| kind | design and rate | recorded | here | combined error | errors |").AppendLine("| --- | --- | --- | --- | --- | --- |").Append(far).AppendLine();
        page.AppendLine("## Recorded, and not what the product does").AppendLine().AppendLine("| block | rows or rates | rows | why not |").AppendLine("| --- | --- | --- | --- |");
        foreach (NotOurs no in RecordedRates.Rejected) page.AppendLine(CultureInfo.InvariantCulture, $"| {no.Block} | {no.What} | {no.Rows} | {no.Why} |");
        return page.ToString();
    }
}
