using System.Text.Json;
using Meltwise.Statistics.Distributions;
using Xunit;

namespace Meltwise.Statistics.Tests.Distributions;

/// <summary>Oracles/statistics/distributions.json: 32-digit arithmetic, stored with 20 digits. Asked for: 11 digits relative, in both tails, hard regions too.</summary>
public sealed class DistributionOracleTests
{
    private static readonly JsonElement s_cases = Oracle.Read("distributions.json").GetProperty("cases");

    private static void Check(string set, Func<JsonElement, (string What, double Expected, double Actual)[]> compare, double digits = 11)
    {
        List<string> misses = [];
        foreach (JsonElement row in s_cases.GetProperty(set).EnumerateArray())
            foreach ((string what, double expected, double actual) in compare(row))
                if (Evidence.Digits.Between(actual, expected).Count < digits)
                    misses.Add($"{set} {row} {what}: oracle {expected:R}, computed {actual:R}");
        Assert.True(misses.Count == 0, string.Join(Environment.NewLine, misses));
    }

    private static (string, double, double)[] Both(JsonElement r, double lower, double upper) =>
        [("lower", r.Number("cdf"), lower), ("upper", r.Number("upper"), upper)];

    [Fact]
    public void Normal_cdf() => Check("normal_cdf", r => [("cdf", r.Number("cdf"), Normal.Cdf(r.Number("x")))]);

    // Above one half the complement is taken in decimal arithmetic: 0.99999999 as a double is off by 6e-9 of its upper tail,
    // and no method can give back what the argument has lost.
    [Fact]
    public void Normal_quantile() => Check("normal_quantile", r => [("x", r.Number("x"), r.Number("p") > 0.5
        ? -Normal.Quantile((double)(1 - decimal.Parse(r.Text("p"), System.Globalization.CultureInfo.InvariantCulture)))
        : Normal.Quantile(r.Number("p")))]);

    [Fact]
    public void T_both_tails() => Check("t_cdf", r =>
        Both(r, StudentT.Cdf(r.Number("t"), r.Number("df")), StudentT.UpperTail(r.Number("t"), r.Number("df"))));

    [Fact]
    public void T_quantile() => Check("t_quantile", r => [("t", r.Number("t"), StudentT.Quantile(r.Number("p"), r.Number("df")))]);

    [Fact]
    public void Chi_squared_both_tails() => Check("chi2_cdf", r =>
        Both(r, ChiSquared.Cdf(r.Number("x"), r.Number("df")), ChiSquared.UpperTail(r.Number("x"), r.Number("df"))));

    [Fact]
    public void Chi_squared_quantile() => Check("chi2_quantile", r => [("x", r.Number("x"), ChiSquared.Quantile(r.Number("p"), r.Number("df")))]);

    [Fact]
    public void F_both_tails() => Check("f_cdf", r => Both(r,
        FisherF.Cdf(r.Number("x"), r.Number("df1"), r.Number("df2")), FisherF.UpperTail(r.Number("x"), r.Number("df1"), r.Number("df2"))));

    [Fact]
    public void F_quantile() => Check("f_quantile", r => [("x", r.Number("x"), FisherF.Quantile(r.Number("p"), r.Number("df1"), r.Number("df2")))]);

    [Fact]
    public void Noncentral_t_both_tails() => Check("noncentral_t_cdf", r => Both(r,
        NoncentralT.Cdf(r.Number("t"), r.Number("df"), r.Number("ncp")), NoncentralT.UpperTail(r.Number("t"), r.Number("df"), r.Number("ncp"))));

    [Fact]
    public void Noncentral_t_quantile() => Check("noncentral_t_quantile", r =>
        [("t", r.Number("t"), NoncentralT.Quantile(r.Number("p"), r.Number("df"), r.Number("ncp")))]);

    [Fact]
    public void Noncentral_chi_squared_both_tails() => Check("noncentral_chi2_cdf", r => Both(r,
        NoncentralChiSquared.Cdf(r.Number("x"), r.Number("df"), r.Number("ncp")), NoncentralChiSquared.UpperTail(r.Number("x"), r.Number("df"), r.Number("ncp"))));

    [Fact]
    public void Noncentral_F_both_tails() => Check("noncentral_f_cdf", r => Both(r,
        NoncentralF.Cdf(r.Number("x"), r.Number("df1"), r.Number("df2"), r.Number("ncp")), NoncentralF.UpperTail(r.Number("x"), r.Number("df1"), r.Number("df2"), r.Number("ncp"))));

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void A_quantile_of_no_probability_is_refused(double p) =>
        Assert.Contains("above 0 and below 1", Assert.Throws<ArgumentOutOfRangeException>(() => NoncentralT.Quantile(p, 5, 1)).Message, StringComparison.Ordinal);
}
