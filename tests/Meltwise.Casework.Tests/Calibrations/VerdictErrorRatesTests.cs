using System.Globalization;
using System.Text.Json;
using Meltwise.Calibrations;
using Xunit;

namespace Meltwise.Casework.Tests.Calibrations;

/// <summary>Error rates as tested against Oracles/verdict/error_rates.json: an independent program (numpy, its own generator, 20000 replicates), scatter exponents 0.5, 1 and 1.4, CV 10 to 25 %, normal and skewed readings.</summary>
public sealed class VerdictErrorRatesTests
{
    private const int Replicates = 2_000;
    private static readonly JsonElement s_rows = Load();

    public static TheoryData<string, double> Kinds
    {
        get
        {
            TheoryData<string, double> kinds = [];
            foreach (string shape in (string[])["normal", "right", "left"])
                foreach (double exponent in (double[])[0.5, 1, 1.4]) kinds.Add(shape, exponent);
            return kinds;
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Rates_of_every_outcome_agree(string errors, double exponent)
    {
        AsTestedRates.Shape shape = errors switch { "normal" => AsTestedRates.Shape.Normal, "right" => AsTestedRates.Shape.Right, _ => AsTestedRates.Shape.Left };
        List<string> failing = [];
        int compared = 0;
        foreach (IGrouping<(double, int), JsonElement> design in Rows(errors, exponent).GroupBy(r => (r.GetProperty("cv").GetDouble(), r.GetProperty("nCandidate").GetInt32())))
        {
            Design ours = AsTestedRates.Of(shape, exponent, design.Key.Item1, design.Key.Item2);
            RateTable table = AsTestedRates.Table with { Designs = [ours], Seed = 401 };
            Rate[] rates = table.Run(0, Replicates);
            foreach (JsonElement row in design)
            {
                double truth = row.GetProperty("trueRatio").GetDouble();
                (string Name, int Column)[] compare = truth switch { 1 => [("excludes1", 2), ("anyEquivalent", 5)], < 1 => [("anyEquivalent", 0), ("worse", 3)], _ => [("anyEquivalent", 1), ("better", 4)] };
                foreach ((string name, int column) in compare)
                {
                    double expected = row.GetProperty(name)[0].GetDouble(), error = row.GetProperty(name)[1].GetDouble(), p = Math.Max(expected, 1e-3);
                    compared++;
                    if (Math.Abs(rates[column].Value - expected) > 4 * Math.Sqrt(error * error + p * (1 - p) / Replicates))
                        failing.Add(string.Create(CultureInfo.InvariantCulture, $"{ours.Name}, truth {truth}, {name}: {expected} expected, {rates[column].Value} seen"));
                }
            }
        }
        Assert.True(compared >= 50, $"Only {compared} rates were compared.");
        Assert.True(failing.Count == 0, string.Join(Environment.NewLine, failing));
    }

    private static IEnumerable<JsonElement> Rows(string errors, double exponent) => s_rows.EnumerateArray()
        .Where(r => r.GetProperty("errors").GetString() == errors && r.GetProperty("exponent").GetDouble().Equals(exponent));

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "verdict", "error_rates.json")));
        return document.RootElement.GetProperty("rows").Clone();
    }
}
