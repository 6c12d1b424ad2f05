using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.MetaAnalysis;
using Xunit;

namespace Meltwise.Statistics.Tests.MetaAnalysis;

/// <summary>Oracles/statistics/meta.json for independent comparisons and correlated_effects.json for comparisons that share a lot (R, 12 digits).</summary>
public sealed class CorrelatedEffectsMeanTests
{
    public static TheoryData<string> Sets => RandomEffectsMeanTests.Sets;

    [Theory]
    [MemberData(nameof(Sets))]
    public void Independent_comparisons_agree(string id)
    {
        JsonElement set = Oracle.Read("meta.json").GetProperty("sets").GetProperty(id), e = set.GetProperty("REML"), hk = e.GetProperty("hartung_knapp");
        double[] y = set.Numbers("yi"), v = set.Numbers("vi");
        double[,] covariance = new double[y.Length, y.Length];
        for (int i = 0; i < v.Length; i++) covariance[i, i] = v[i];
        CorrelatedEffectsMean fit = CorrelatedEffectsMean.Fit(y, covariance);
        Assert.Equal(e.Number("tau2"), fit.TauSquared, 1e-9 * (e.Number("tau2") + v.Average()));
        Digits.Agree(e.Number("estimate"), fit.Mean, new(8), "mean");
        Digits.Agree(hk.Number("se_truncated_at_1"), fit.StandardError, new(8), "standard error");
        double[] interval = hk.Numbers("ci95_truncated");
        Assert.Equal(interval[0], fit.Interval(0.95).Lower, 1e-8 * (interval[1] - interval[0]));
        Assert.Equal(interval[1], fit.Interval(0.95).Upper, 1e-8 * (interval[1] - interval[0]));
    }

    [Fact]
    public void Comparisons_that_share_a_lot_agree()
    {
        JsonElement e = Oracle.Read("correlated_effects.json");
        double[] y = e.Numbers("y");
        double[,] covariance = new double[y.Length, y.Length];
        for (int i = 0; i < y.Length; i++)
            for (int j = 0; j < y.Length; j++) covariance[i, j] = e.GetProperty("V")[i][j].Number();
        CorrelatedEffectsMean fit = CorrelatedEffectsMean.Fit(y, covariance), about = CorrelatedEffectsMean.Fit(y, covariance, aboutZero: true);
        Digits.Agree(e.Number("tau2"), fit.TauSquared, new(9), "τ²");
        Digits.Agree(e.Number("mean"), fit.Mean, new(9), "mean");
        Digits.Agree(Math.Sqrt(Math.Max(1, e.Number("q")) / e.Number("weight")), fit.StandardError, new(9), "standard error");
        Digits.Agree(e.Number("tau2AboutZero"), about.TauSquared, new(8), "τ² about no difference");
        Assert.Equal(0, about.Mean);
        (double lower, double upper) = fit.Prediction(0.95);
        Digits.Agree(e.Number("nextLower"), lower, new(7), "lower limit for the next comparison");
        Digits.Agree(e.Number("nextUpper"), upper, new(7), "upper limit for the next comparison");
    }

    // Comparisons alike beyond chance leave the plain formula with τ = 0 and a far too short interval; the spread may still be large for all that k of them tell.
    [Fact]
    public void The_next_comparison_is_not_taken_as_alike_because_few_are()
    {
        double[] y = [0.001, -0.002, 0.0, 0.002, -0.001];
        double[,] v = new double[5, 5];
        for (int i = 0; i < 5; i++) v[i, i] = 0.0025;
        CorrelatedEffectsMean fit = CorrelatedEffectsMean.Fit(y, v);
        Assert.Equal(0, fit.TauSquared);
        Assert.True(fit.Prediction(0.95).Upper > 0 && fit.Prediction(0.95).Lower < 0);
        Assert.Equal(-fit.Prediction(0.95).Lower, fit.Prediction(0.95).Upper, 1e-3);
    }

    [Fact]
    public void Two_comparisons_are_refused() =>
        Assert.Contains("got 2", Assert.Throws<InsufficientDataException>(() => CorrelatedEffectsMean.Fit([0.1, 0.2], new double[2, 2])).Message, StringComparison.Ordinal);
}
