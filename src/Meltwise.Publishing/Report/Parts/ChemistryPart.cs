using System.Globalization;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Chemistry by every method, and the differences by the preferred one.</summary>
internal static class ChemistryPart
{
    private static readonly string[] s_order = ["C", "Si", "Mn", "P", "S", "Cr", "Mo", "W", "V", "Co", "Ni", "Cu", "N", "O"];

    public static ReportPart Of(ReportInput input)
    {
        if (input.Chemistry.Count == 0)
            return new("Chemistry", [], WhenEmpty: "No chemistry was recorded for these heats.");
        List<Block> blocks = [];
        if (input.Enquiry is { ReferenceHeats: [var reference], CandidateHeats: [var candidate] } && Rows(input.Chemistry, reference, candidate) is { Count: > 0 } rows)
            blocks.Add(new Block.Drawn(ChemistryFigure.Build(reference, candidate, rows)));
        blocks.Add(new Block.Heading("Every result"));
        blocks.Add(new Block.Table([new("element", 0.7), new("heat", 0.8), new("value", 0.9, true), new("± U", 0.8, true), new("unit", 0.6), new("method", 1.5), new("laboratory", 1.4)],
            [.. input.Chemistry.OrderBy(c => Order(c.Element)).ThenBy(c => c.Heat, StringComparer.Ordinal).ThenBy(c => c.Method, StringComparer.Ordinal).Select(Row)],
            "Figures as typed; U with the coverage factor stated, k = 2 where none was. A dash: no uncertainty was stated. Below detection is kept as such."));
        return new("Chemistry", blocks);
    }

    /// <summary>The elements that both heats have, by the preferred method.</summary>
    public static IReadOnlyList<ElementRow> Rows(IReadOnlyList<ChemistryResult> results, string reference, string candidate)
    {
        List<ElementRow> rows = [];
        foreach (string element in results.Select(r => r.Element).Distinct(StringComparer.Ordinal).OrderBy(Order).ThenBy(e => e, StringComparer.Ordinal))
        {
            (ChemistryResult? a, ChemistryResult? b) = Pair([.. results.Where(r => r.Element == element && r.Heat == reference)], [.. results.Where(r => r.Element == element && r.Heat == candidate)], element);
            if (a is null || b is null)
                continue;
            string unit = a.Typed.Unit == "wt%" ? "" : $", {a.Typed.Unit}";
            rows.Add(new(element + unit, null, Value(a), Value(b), a.Method == b.Method ? a.Method ?? "unknown" : $"{a.Method ?? "unknown"}, {b.Method ?? "unknown"}", Difference(a, b)));
        }
        return rows;
    }

    // The same method in both heats where there is one; of several the preferred one: combustion for C and S, fusion for O and N (handbook, common practice).
    private static (ChemistryResult? A, ChemistryResult? B) Pair(ChemistryResult[] a, ChemistryResult[] b, string element)
    {
        int Rank(ChemistryResult r) => r.Method is null ? 3
            : element is "C" or "S" && r.Method.Contains("combustion", StringComparison.OrdinalIgnoreCase) ? 0
            : element is "O" or "N" && r.Method.Contains("fusion", StringComparison.OrdinalIgnoreCase) ? 0
            : r.Method.Contains("certificate", StringComparison.OrdinalIgnoreCase) ? 2 : 1;
        var shared = a.SelectMany(x => b.Where(y => y.Method == x.Method && y.Typed.Unit == x.Typed.Unit).Select(y => (x, y))).OrderBy(p => Rank(p.x)).ToArray();
        return shared.Length > 0 ? shared[0] : (null, null);
    }

    private static double? Difference(ChemistryResult a, ChemistryResult b)
    {
        if (a.Typed.Censoring != Censoring.None || b.Typed.Censoring != Censoring.None || a.ExpandedUncertainty is not { } ua || b.ExpandedUncertainty is not { } ub)
            return null;
        double expanded = 2 * Math.Sqrt(Math.Pow(ua / (a.CoverageFactor ?? 2), 2) + Math.Pow(ub / (b.CoverageFactor ?? 2), 2));
        return expanded > 0 ? (b.Typed.Value - a.Typed.Value) / expanded : null;
    }

    private static string Value(ChemistryResult r) => r.Typed.Censoring == Censoring.Below
        ? $"< {r.Typed.Text.TrimStart('<', ' ')}"
        : r.Typed.Text + (r.ExpandedUncertainty is { } u ? $" ± {Text(u)}" : "");

    private static IReadOnlyList<Rich> Row(ChemistryResult r) =>
    [
        Rich.Of(new Run(r.Element, RunStyle.Strong)), r.Heat, r.Typed.Censoring == Censoring.Below ? Rich.Of(new Run($"< {r.Typed.Text.TrimStart('<', ' ')}", RunStyle.Italic)) : r.Typed.Text,
        r.ExpandedUncertainty is { } u ? Text(u) : "–", r.Typed.Unit, Rich.OrUnknown(r.Method), Rich.OrUnknown(r.Laboratory),
    ];

    private static string Text(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    private static int Order(string element) => Array.IndexOf(s_order, element) is var i and >= 0 ? i : s_order.Length;
}
