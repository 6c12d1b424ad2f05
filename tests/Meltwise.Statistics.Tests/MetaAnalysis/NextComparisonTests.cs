using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.MetaAnalysis;
using Xunit;

namespace Meltwise.Statistics.Tests.MetaAnalysis;

/// <summary>Oracles/statistics/next_pair.json: the same posterior in R, dense matrices and adaptive quadrature, quantiles by uniroot (9 digits).</summary>
public sealed class NextComparisonTests
{
    private static readonly JsonElement s_cases = Oracle.Read("next_pair.json").GetProperty("cases");

    public static TheoryData<string> Names => [.. s_cases.EnumerateObject().Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Limits_agree(string name)
    {
        JsonElement e = s_cases.GetProperty(name);
        (double lower, double upper) = Fit(e.Numbers("y"), e.Numbers("v")).Prediction(0.95);
        Assert.Equal(e.Number("lower"), lower, 1e-7 * (upper - lower));
        Assert.Equal(e.Number("upper"), upper, 1e-7 * (upper - lower));
    }

    // Without sampling error the effects are plain readings, and the next one has the interval of the textbook: ȳ ± t(k − 1)·s·√(1 + 1/k).
    [Fact]
    public void Without_sampling_error_it_is_the_prediction_interval_of_a_normal_sample()
    {
        double[] y = [-0.31, 0.12, 0.05, 0.27, -0.02, 0.4];
        double mean = y.Average(), sd = Math.Sqrt(y.Sum(v => (v - mean) * (v - mean)) / 5), half = StudentT.Quantile(0.975, 5) * sd * Math.Sqrt(1 + 1 / 6.0);
        (double lower, double upper) = Fit(y, [.. y.Select(_ => 1e-10)]).Prediction(0.95);
        Digits.Agree(mean - half, lower, new(6), "lower limit");
        Digits.Agree(mean + half, upper, new(6), "upper limit");
    }

    private static CorrelatedEffectsMean Fit(double[] y, double[] v)
    {
        double[,] covariance = new double[y.Length, y.Length];
        for (int i = 0; i < y.Length; i++) covariance[i, i] = v[i];
        return CorrelatedEffectsMean.Fit(y, covariance);
    }
}
