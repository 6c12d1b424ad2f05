using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Resampling;
using Xunit;

namespace Meltwise.Statistics.Tests.Resampling;

/// <summary>Oracles/statistics/bootstrap.json: limits for very many replicates, with the allowance for 10000 measured over 400 runs.</summary>
public sealed class BootstrapTests
{
    private static readonly JsonElement s_sets = Oracle.Read("bootstrap.json").GetProperty("sets");

    private static (double[] A, double[] B) TwoHeats()
    {
        Table t = Table.MadeUp("madeup_two_heats.csv");
        double[] y = t.Numbers("energy_j");
        string[] heat = t.Text("heat");
        return ([.. y.Where((_, i) => heat[i] == "A")], [.. y.Where((_, i) => heat[i] == "B")]);
    }

    private static double Mean(ReadOnlySpan<double> x)
    {
        double sum = 0;
        foreach (double v in x) sum += v;
        return sum / x.Length;
    }

    [Fact]
    public void Difference_of_mean_logs_agrees()
    {
        (double[] a, double[] b) = TwoHeats();
        Compare("two_heats_difference_of_mean_logs", Bootstrap.TwoSample([.. a.Select(v => Math.Log(v))], [.. b.Select(v => Math.Log(v))], (x, y) => Mean(x) - Mean(y), 10_000, 1));
    }

    [Fact]
    public void Log_ratio_of_means_agrees()
    {
        (double[] a, double[] b) = TwoHeats();
        Compare("two_heats_log_ratio_of_means", Bootstrap.TwoSample(a, b, (x, y) => Math.Log(Mean(x) / Mean(y)), 10_000, 2));
    }

    [Fact]
    public void Difference_of_means_agrees()
    {
        (double[] a, double[] b) = TwoHeats();
        Compare("two_heats_difference_of_means", Bootstrap.TwoSample(a, b, (x, y) => Mean(x) - Mean(y), 10_000, 3));
    }

    // The ideal bootstrap of 5 + 4 values, all 126 × 35 distinct resamples: its quantiles are steps of 0.1 and more, so 200000 resamples hit them or a neighbour.
    [Fact]
    public void Agrees_with_all_resamples_of_a_tiny_set()
    {
        JsonElement e = s_sets.GetProperty("tiny_exact");
        Table t = Table.MadeUp("madeup_tiny.csv");
        string group = t.Columns.First(c => t.Text(c).Any(v => !double.TryParse(v, out _))), value = t.Columns.Single(c => c != group);
        string first = t.Text(group)[0];
        double[] y = t.Numbers(value), x = [.. y.Where((_, i) => t.Text(group)[i] == first)], rest = [.. y.Where((_, i) => t.Text(group)[i] != first)];
        BootstrapResult ours = Bootstrap.TwoSample(x, rest, (a, b) => Mean(a) - Mean(b), 200_000, 11, 0.90);
        Digits.Agree(e.Number("observed"), ours.Observed, new(12), "observed");
        Digits.Agree(e.Number("acceleration"), ours.Acceleration, new(10), "acceleration");
        Assert.Equal(e.Number("z0"), ours.BiasCorrection, 0.012);
        Assert.Equal(e.Number("ideal_se"), ours.StandardError, 0.015);
        Near(e.Numbers("ideal_percentile90"), ours.Percentile);
        Near(e.Numbers("ideal_bca90"), ours.Bca);
    }

    private static void Near(double[] expected, (double Lower, double Upper) ours)
    {
        Assert.Equal(expected[0], ours.Lower, 0.08);
        Assert.Equal(expected[1], ours.Upper, 0.08);
    }

    private static void Compare(string id, BootstrapResult ours)
    {
        JsonElement e = s_sets.GetProperty(id);
        Digits.Agree(e.Number("observed"), ours.Observed, new(10), "observed");
        Digits.Agree(e.Number("acceleration"), ours.Acceleration, new(8), "acceleration");
        double[] bca = e.Numbers("bca95_limit"), percentile = e.Numbers("percentile95_limit");
        double allowed = 0.03 * (bca[1] - bca[0]);
        Assert.InRange(ours.Bca.Lower - bca[0], -allowed, allowed);
        Assert.InRange(ours.Bca.Upper - bca[1], -allowed, allowed);
        Assert.InRange(ours.Percentile.Lower - percentile[0], -allowed, allowed);
        Assert.InRange(ours.Percentile.Upper - percentile[1], -allowed, allowed);
        // Standard error of a standard deviation from 10000 replicates is 0.7 percent; four of them.
        Assert.InRange(ours.StandardError / e.Number("bootstrap_se_limit"), 0.97, 1.03);
    }

    [Fact]
    public void One_seed_gives_one_result()
    {
        (double[] a, double[] b) = TwoHeats();
        Assert.Equal(Bootstrap.TwoSample(a, b, (x, y) => Mean(x) - Mean(y), 5000, 7), Bootstrap.TwoSample(a, b, (x, y) => Mean(x) - Mean(y), 5000, 7));
    }

    // For a difference of means the studentized interval is close to Welch's; 0.0073 to 13.504 in two_sample.json. Allowed: 12 percent of the width,
    // since with 9 coupons the t* quantiles of these data differ from Student's by up to a tenth.
    [Fact]
    public void Studentized_is_near_Welch()
    {
        (double[] a, double[] b) = TwoHeats();
        (double lower, double upper) = Bootstrap.Studentized(a, b, (x, y) => (Mean(x) - Mean(y), Math.Sqrt(Variance(x) / x.Length + Variance(y) / y.Length)), 20_000, 5);
        Assert.InRange(lower, 0.0073 - 1.6, 0.0073 + 1.6);
        Assert.InRange(upper, 13.504 - 1.6, 13.504 + 1.6);
    }

    private static double Variance(ReadOnlySpan<double> x)
    {
        double mean = Mean(x), sum = 0;
        foreach (double v in x) sum += (v - mean) * (v - mean);
        return sum / (x.Length - 1);
    }
}
