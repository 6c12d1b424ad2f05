using System.Diagnostics;
using System.Globalization;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Bench;

/// <summary>Time of whole explanations: 10,000 draws, which are 20,000 exact equilibria, with contributions and sentence.</summary>
internal static class ExplanationBench
{
    /// <summary>Runs three pairs and writes a table.</summary>
    internal static void Run(TextWriter output)
    {
        output.WriteLine("| pair | draws | threads | wall time | processor time | asked for |");
        output.WriteLine("| --- | --- | --- | --- | --- | --- |");
        Line(output, "D2, 6 elements, 1020 °C", "C 1.50, Cr 12.0, Mo 0.8, V 0.9, Mn 0.3, Si 0.3", "C 1.55, Cr 11.7, Mo 0.8, V 0.9, Mn 0.3, Si 0.3", 1020);
        Line(output, "M2, 7 elements, 1200 °C", "C 0.85, Cr 4.1, Mo 5.0, V 1.9, W 6.2, Mn 0.3, Si 0.3", "C 0.88, Cr 4.0, Mo 5.1, V 2.0, W 6.0, Mn 0.3, Si 0.3", 1200);
        Line(output, "powder steel, 8 elements, 1050 °C", "C 1.0, Cr 8.0, Mo 2.0, V 1.5, W 1.0, Mn 0.4, Si 0.9, Ni 0.2", "C 1.03, Cr 7.8, Mo 2.0, V 1.6, W 1.0, Mn 0.4, Si 0.9, Ni 0.1", 1050);
    }

    private static void Line(TextWriter output, string name, string reference, string candidate, double celsius)
    {
        HeatChemistry a = Steel("A", reference), b = Steel("B", candidate);
        HardeningTreatment treatment = new(celsius, [20], []);
        Explainer.Explain(a, b, treatment, null, new() { Draws = 200, Threads = 2 });
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        Stopwatch watch = Stopwatch.StartNew();
        Explainer.Explain(a, b, treatment, new(1, 0.1), new() { Draws = 10_000, Threads = 2 });
        TimeSpan processor = Process.GetCurrentProcess().TotalProcessorTime - before;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {name} | 10000 | 2 | {watch.Elapsed.TotalSeconds:0.0} s | {processor.TotalSeconds:0.0} s | 20 s wall |"));
    }

    private static HeatChemistry Steel(string name, string text) => ChemistrySelection.Typed(name,
        [.. text.Split(", ").Select(e => e.Split(' ')).Select(e => (e[0], double.Parse(e[1], CultureInfo.InvariantCulture), (double?)null))], "laboratory");
}
