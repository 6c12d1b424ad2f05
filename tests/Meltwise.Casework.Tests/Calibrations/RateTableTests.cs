using System.Globalization;
using Meltwise.Calibrations;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Calibrations;

/// <summary>The committed tables of simulated rates (bench/results) keep to their nominal levels or to the excess that the docs own up to, and a reduced run of each still gives them.</summary>
public sealed class RateTableTests
{
    public static TheoryData<string> Tables => [.. RateTables.All.Select(t => t.Name)];

    [Theory]
    [MemberData(nameof(Tables))]
    public void Committed_rates_keep_their_nominal_level(string name)
    {
        RateTable table = Table(name);
        IReadOnlyDictionary<string, Rate[]> committed = Committed(table);
        List<string> failing = [];
        foreach (Design design in table.Designs)
            for (int c = 0; c < table.Columns.Count; c++)
                if (committed[design.Name][c] is { Tried: > 0 } rate && table.Columns[c].Excess(rate.Value) > Math.Max(design.Allowance, table.Columns[c].Allowance) + 3 * rate.StandardError)
                    failing.Add(string.Create(CultureInfo.InvariantCulture, $"{design.Name}, {table.Columns[c].Name}: {rate.Value}"));
        Assert.True(failing.Count == 0, string.Join(Environment.NewLine, failing));
    }

    // Both runs scatter; 4.5 combined standard errors leave a fixed seed free of chance alarms over some 800 rates, and still see a shift of a few hundredths.
    [Theory]
    [MemberData(nameof(Tables))]
    public void A_reduced_run_gives_the_committed_rates(string name)
    {
        RateTable table = Table(name);
        IReadOnlyDictionary<string, Rate[]> committed = Committed(table);
        List<string> failing = [];
        for (int row = 0; row < table.Designs.Count; row += table.ReducedStride)
        {
            Rate[] now = table.Run(row, table.Reduced);
            for (int c = 0; c < now.Length; c++)
            {
                Rate then = committed[table.Designs[row].Name][c];
                if (then.Tried == 0 || now[c].Tried == 0) continue;
                double p = Math.Clamp(then.Value, 0.5 / then.Tried, 1 - 0.5 / then.Tried), chance = Math.Sqrt(p * (1 - p) * (1.0 / now[c].Tried + 1.0 / then.Tried));
                if (Math.Abs(now[c].Value - then.Value) > 4.5 * chance + 1.0 / now[c].Tried)
                    failing.Add(string.Create(CultureInfo.InvariantCulture, $"{table.Designs[row].Name}, {table.Columns[c].Name}: committed {then.Value}, now {now[c].Value:F4} in {now[c].Tried}"));
            }
        }
        Assert.True(failing.Count == 0, string.Join(Environment.NewLine, failing));
    }

    [Fact]
    public void One_seed_gives_one_rate_at_any_number_of_threads()
    {
        RateTable table = PairsRates.Table;
        Assert.Equal(table.Run(1, 100), table.Run(1, 100));
    }

    private static RateTable Table(string name) => RateTables.All.Single(t => t.Name == name);

    private static IReadOnlyDictionary<string, Rate[]> Committed(RateTable table)
    {
        IReadOnlyDictionary<string, Rate[]> rates = RatePage.Read(File.ReadAllText(Path.Combine(Repository.Root, "bench", "results", table.Name + ".md")));
        Assert.Equal(table.Designs.Select(d => d.Name), rates.Keys);
        return rates;
    }
}
