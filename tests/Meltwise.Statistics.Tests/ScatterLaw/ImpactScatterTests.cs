using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.LeastSquares;
using Meltwise.Statistics.ScatterLaw;
using Xunit;

namespace Meltwise.Statistics.Tests.ScatterLaw;

/// <summary>Measured impact energies, Published/open_datasets: scatter rises with the mean. 222 groups of one steel within 2 °C, slope of log SD on log mean 0.69 (0.05).</summary>
public sealed class ImpactScatterTests
{
    private static readonly double[][] s_groups = Groups();

    private static double[][] Groups()
    {
        Table t = new("Published", "open_datasets", "charpy_transition_points.csv");
        string[] series = t.Text("series");
        double[] temperature = t.Numbers("temperature_c"), energy = t.Numbers("energy_j");
        List<double[]> groups = [];
        foreach (IGrouping<string, int> steel in Enumerable.Range(0, series.Length).GroupBy(i => series[i]))
        {
            List<int> group = [];
            foreach (int i in steel.OrderBy(i => temperature[i]).Append(-1))
            {
                if (i >= 0 && (group.Count == 0 || temperature[i] - temperature[group[0]] <= 2))
                {
                    group.Add(i);
                    continue;
                }
                if (group.Count >= 3) groups.Add([.. group.Select(k => energy[k])]);
                group = [i];
            }
        }
        return [.. groups];
    }

    [Fact]
    public void Log_scatter_on_log_mean_as_published()
    {
        using JsonDocument known = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Published", "open_datasets", "charpy_scatter_by_mean.json")));
        double[] mean = [.. s_groups.Select(g => Math.Log(g.Average()))], scatter = [.. s_groups.Select(g => Math.Log(Univariate.Of(g).StandardDeviation))];
        LinearFit fit = LinearRegression.Fit(scatter, [[.. mean.Select(_ => 1.0)], mean], ["intercept", "exponent"]);
        Assert.Equal((int)known.RootElement.Number("groups"), s_groups.Length);
        // Ties of temperature are grouped in file order here and in another there; one group in a hundred differs.
        Assert.Equal(known.RootElement.Number("slope_log_sd_on_log_mean"), fit.Coefficients[1], 0.002);
        Assert.Equal(known.RootElement.Number("slope_se"), fit.StandardError(1), 0.0005);
    }

    // The gamma law weighs groups by their degrees of freedom and is led by the wide scatter in mid-transition; both say that the exponent lies below 1.
    [Fact]
    public void Scatter_law_has_an_exponent_below_one()
    {
        GammaVarianceLaw law = GammaVarianceLaw.Fit([.. s_groups.Select(g =>
        {
            double[] z = [.. g.Select(v => Math.Log(v))];
            (double m, double sd, _) = Univariate.Of(z);
            return new ScatterGroup(m, sd * sd, z.Length - 1);
        })])!;
        Assert.True(law.IsEstimated);
        Assert.InRange(law.Exponent, 0.69 - 0.3, 0.69 + 0.3);
        Assert.True(law.Interval!.Value.Upper < 1, $"{law.Exponent} {law.Interval}");
    }
}
