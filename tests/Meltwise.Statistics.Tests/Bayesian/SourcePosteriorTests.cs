using System.Text.Json;
using Meltwise.Statistics.Bayesian;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Sources;
using Meltwise.Statistics.Trend;
using Xunit;

namespace Meltwise.Statistics.Tests.Bayesian;

/// <summary>Oracles/source-posterior: dense matrices and Gauss-Legendre panels, six digits. Published data: dyestuff (Davies and Goldsmith 1972) and rail (Devore 2000).</summary>
public sealed class SourcePosteriorTests
{
    private static readonly SlopeOnHardness s_slope = new(-0.12, 0.04, 20);

    [Theory]
    [InlineData("dyestuff", 0.05, 0.05)]
    [InlineData("rail", 0.22314355131420976, 0.22314355131420976)]
    [InlineData("unbalanced", 0.22314355131420976, 0.22314355131420976)]
    public void Agrees_with_brute_force(string name, double low, double high)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Oracles", "source-posterior", "source_posterior.json")));
        JsonElement oracle = document.RootElement.GetProperty(name);
        SourcePosterior posterior = Of(name);
        (double lower, double upper) = posterior.Interval(0.95);
        double tolerance = 2e-6 * (upper - lower);
        Assert.Equal(oracle.Number("median"), posterior.Median, tolerance);
        Assert.Equal(oracle.Number("lower"), lower, tolerance);
        Assert.Equal(oracle.Number("upper"), upper, tolerance);
        Assert.Equal(oracle.Number("below"), posterior.Cdf(-low), 1e-6);
        Assert.Equal(oracle.Number("inside"), posterior.Inside(-low, high), 1e-6);
        for (int i = 0; i < 3; i++)
        {
            double p = 0.25 * (i + 1);
            Assert.Equal(oracle.Numbers("heatSdQuartiles")[i], posterior.HeatSdQuantile(p), 0.01 * oracle.Numbers("heatSdQuartiles")[i]);
        }
    }

    // τ held at 0 leaves one-way analysis of variance with fixed effects: θ is t about the difference of coupon means, with coupons less sources as degrees of freedom ([GelmanEtAl2013], 14.2).
    [Fact]
    public void A_prior_of_no_heat_scatter_gives_the_fixed_effect_t()
    {
        SourceHeat[] heats = Heats("dyestuff");
        double squares = heats.Sum(h => h.SquaresWithin), difference = 0;
        for (int s = 0; s < 2; s++)
        {
            double mean = heats.Where(h => h.Source == s).Average(h => h.Mean);
            squares += heats.Where(h => h.Source == s).Sum(h => h.Count * (h.Mean - mean) * (h.Mean - mean));
            difference += (s == 0 ? 1 : -1) * mean;
        }
        double error = Math.Sqrt(squares / 28 * 2 / 15), half = StudentT.Quantile(0.975, 28) * error;
        (double lower, double upper) = new SourcePosterior(heats, 2, 0, 1, null, 1e-7).Interval(0.95);
        Assert.Equal(difference - half, lower, 1e-6 * half);
        Assert.Equal(difference + half, upper, 1e-6 * half);
    }

    [Fact]
    public void Exchanging_the_sources_changes_the_sign()
    {
        SourceHeat[] heats = Heats("unbalanced");
        (double lower, double upper) = new SourcePosterior(heats, 3, 0, 1, s_slope, 0.25).Interval(0.95);
        (double otherLower, double otherUpper) = new SourcePosterior(heats, 3, 1, 0, s_slope, 0.25).Interval(0.95);
        Assert.Equal(-lower, otherUpper, 1e-7);
        Assert.Equal(-upper, otherLower, 1e-7);
    }

    // Another unit adds a constant to every logarithm; another order of heats changes nothing.
    [Fact]
    public void Neither_unit_nor_order_matters()
    {
        SourceHeat[] heats = Heats("unbalanced");
        SourceHeat[] moved = [.. heats.Reverse().Select(h => h with { Mean = h.Mean + 2.5 })];
        Assert.Equal(Of("unbalanced").Quantile(0.9), new SourcePosterior(moved, 3, 0, 1, s_slope, 0.25).Quantile(0.9), 1e-7);
    }

    // A wider prior lets τ grow, and the interval with it.
    [Fact]
    public void A_wider_prior_widens_the_interval()
    {
        SourceHeat[] heats = Heats("rail");
        double last = 0;
        foreach (double scale in new[] { 0.05, 0.25, 1.0 })
        {
            (double lower, double upper) = new SourcePosterior(heats, 2, 0, 1, null, scale).Interval(0.95);
            Assert.True(upper - lower > last);
            last = upper - lower;
        }
    }

    [Fact]
    public void Single_coupons_are_refused() =>
        Assert.Contains("scatter within heats", Assert.Throws<InsufficientDataException>(() => new SourcePosterior([new(0, true, 1, 3, 0, 0), new(1, true, 1, 3.1, 0, 0)], 2, 0, 1, null, 0.25)).Message, StringComparison.Ordinal);

    private static SourcePosterior Of(string name) => new(Heats(name), name == "unbalanced" ? 3 : 2, 0, 1, name == "unbalanced" ? s_slope : null, 0.25);

    internal static SourceHeat[] Heats(string name) => name switch
    {
        "dyestuff" => Split("dyestuff.csv", "Batch", "Yield", ["D", "E", "F"]),
        "rail" => Split("rail.csv", "Rail", "travel", ["3", "4", "6"]),
        _ =>
        [
            Heat(0, [3.02, 3.11, 2.95, 3.07], 58.2), Heat(0, [2.93, 2.99], 58.9), Heat(1, [3.15, 3.08, 3.22], 57.8), Heat(1, [3.01], 58.4),
            Heat(1, [3.19, 3.26, 3.12, 3.2], 57.5), Heat(2, [2.9, 3.0], 59.0), Heat(2, [3.06, 2.98, 3.09], 58.1),
        ],
    };

    private static SourceHeat[] Split(string file, string heat, string value, string[] candidate)
    {
        Table t = Table.Published(file);
        return [.. t.Text(heat).Zip(t.Numbers(value)).GroupBy(r => r.First).Select(g => Heat(candidate.Contains(g.Key) ? 0 : 1, [.. g.Select(r => Math.Log(r.Second))], 0))];
    }

    private static SourceHeat Heat(int source, double[] z, double hardness) => new(source, true, z.Length, z.Average(), z.Sum(v => (v - z.Average()) * (v - z.Average())), hardness);
}
