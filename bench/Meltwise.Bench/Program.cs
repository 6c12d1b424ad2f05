using System.Globalization;
using System.Text;
using Meltwise.Bench;
using Meltwise.Calibrations;
using Meltwise.Bench.Races;

// usage: dotnet run -c Release --project bench/Meltwise.Bench -- [NAME...] [--inputs FOLDER] [--write FILE.md]
// NAME is a race, or a page of its own; without a name all races are run. A new race or page is one line here.
IRace[] races = [new MixedModelRace(), new ScatterTrendRace(), new MetaAnalysisRace(), new EquivalenceSimulationRace(), new BootstrapRace(), new PlanAsTestedRace(), new PlanSourcesRace(), new PictureRace()];
Dictionary<string, Action<TextWriter>> pages = new(StringComparer.Ordinal)
{
    ["calibrate"] = output => output.Write(OutcomeRates.Page()),
    ["compare"] = CompareBench.Run,
    ["bench-file"] = BenchFileBench.Run,
    ["equilibrium"] = EquilibriumBench.Run,
    ["recorded-rates"] = output => output.Write(RecordedPage.Of(File.ReadAllText(RecordedRates.File))),
    ["explanation"] = ExplanationBench.Run,
};
foreach (RateTable table in RateTables.All) pages[table.Name] = output => output.Write(RatePage.Of(table));

List<string> words = [.. args];
string? Option(string name)
{
    int i = words.IndexOf(name);
    if (i < 0 || i + 1 >= words.Count) return null;
    string value = words[i + 1];
    words.RemoveRange(i, 2);
    return value;
}
string inputs = Option("--inputs") ?? Path.Combine(Path.GetTempPath(), "meltwise-baseline-inputs");
string? write = Option("--write");
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;

string[] unknown = [.. words.Where(w => !pages.ContainsKey(w) && !races.Any(r => r.Name == w))];
if (unknown.Length > 0)
{
    Console.Error.WriteLine($"Not a race or page: {string.Join(", ", unknown)}. Known: {string.Join(", ", races.Select(r => r.Name).Concat(pages.Keys))}.");
    return 2;
}

StringBuilder text = new();
using (StringWriter output = new(text))
    foreach (string page in words.Where(pages.ContainsKey)) pages[page](output);
IRace[] chosen = [.. races.Where(r => words.Count == 0 || words.Contains(r.Name))];
if (chosen.Length > 0)
{
    if (!File.Exists(Path.Combine(inputs, "coupons5000.csv"))) Baseline.Run($"make_inputs.py {inputs}", inputs);
    text.Append(RacePage.Of(chosen, inputs));
}
Console.Write(text);
if (write is not null) File.WriteAllText(write, text.ToString());
return 0;
