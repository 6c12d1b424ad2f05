using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.ErrorsInVariables;
using Xunit;

namespace Meltwise.Statistics.Tests.ErrorsInVariables;

/// <summary>Oracles/statistics/errors_in_variables.json: 18 digits for York, 14 for the others, with the published figures beside them.</summary>
public sealed class LinesTests
{
    private static readonly JsonElement s_cases = Oracle.Read("errors_in_variables.json").GetProperty("cases");

    // Pearson (1901) with York's (1966) weights; York et al. (2004), Am. J. Phys. 72, 367: slope -0.480533407, intercept 5.47991022.
    [Fact]
    public void Pearsons_data_with_Yorks_weights()
    {
        JsonElement e = s_cases.GetProperty("pearson_york");
        LineFit fit = YorkLine.Fit(e.Numbers("x"), e.Numbers("y"), [.. e.Numbers("weight_x").Select(w => 1 / Math.Sqrt(w))], [.. e.Numbers("weight_y").Select(w => 1 / Math.Sqrt(w))]);
        Compare(e.GetProperty("computed"), fit);
        new Published("-0.480533407").Agrees(fit.Slope, "slope");
        new Published("5.47991022").Agrees(fit.Intercept, "intercept");
        new Published("11.86635").Agrees(fit.ChiSquared, "chi squared");
    }

    [Theory]
    [InlineData("computed", 0)]
    [InlineData("with_correlation_0.3", 0.3)]
    public void Energy_on_hardness(string key, double correlation)
    {
        Table t = Table.MadeUp("madeup_errors_in_variables.csv");
        Compare(s_cases.GetProperty("madeup_hrc_energy").GetProperty(key),
            YorkLine.Fit(t.Numbers("hrc"), t.Numbers("energy_j"), t.Numbers("u_hrc"), t.Numbers("u_energy_j"), correlation));
    }

    private static void Compare(JsonElement e, LineFit fit)
    {
        Digits.Agree(e.Number("slope"), fit.Slope, new(10), "slope");
        Digits.Agree(e.Number("intercept"), fit.Intercept, new(10), "intercept");
        Digits.Agree(e.Number("se_slope"), fit.SlopeStandardError, new(9), "standard error of the slope");
        Digits.Agree(e.Number("se_intercept"), fit.InterceptStandardError, new(9), "standard error of the intercept");
        Digits.Agree(e.Number("cov_ab"), fit.Covariance, new(9), "covariance");
        Digits.Agree(e.Number("chi2"), fit.ChiSquared, new(9), "chi squared");
        Digits.Agree(e.Number("p_chi2"), fit.FitP, new(8), "p");
        Digits.Agree(e.Number("se_slope_scaled"), fit.ScaledSlopeStandardError, new(9), "scaled standard error");
    }

    [Fact]
    public void Deming_line_at_four_ratios()
    {
        Table t = Table.MadeUp("madeup_errors_in_variables.csv");
        foreach (JsonElement e in s_cases.GetProperty("deming").GetProperty("computed").EnumerateArray())
        {
            (double slope, double intercept, double slopeError, double interceptError) = DemingLine.Fit(t.Numbers("hrc"), t.Numbers("energy_j"), e.Number("lambda_var_y_over_var_x"));
            Digits.Agree(e.Number("slope"), slope, new(10), "slope");
            Digits.Agree(e.Number("intercept"), intercept, new(10), "intercept");
            Digits.Agree(e.Number("jackknife_se_slope"), slopeError, new(8), "jackknife");
            Digits.Agree(e.Number("jackknife_se_intercept"), interceptError, new(8), "jackknife");
        }
    }

    // Fuller (1987), Measurement Error Models, example 1.2.1 (from memory; moments agree with the book): slope 0.4232.
    [Fact]
    public void Corn_yield_on_soil_nitrogen()
    {
        JsonElement e = s_cases.GetProperty("fuller_corn"), c = e.GetProperty("computed");
        KnownErrorFit fit = KnownErrorLine.Fit(e.Numbers("x"), e.Numbers("y"), e.Number("error_variance_x"));
        new Published("0.4232").Agrees(fit.Slope, "slope");
        Digits.Agree(c.Number("beta1"), fit.Slope, new(12), "slope");
        Digits.Agree(c.Number("beta0"), fit.Intercept, new(12), "intercept");
        Digits.Agree(c.Number("se_beta1"), fit.SlopeStandardError, new(10), "standard error of the slope");
        Digits.Agree(c.Number("se_beta0"), fit.InterceptStandardError, new(10), "standard error of the intercept");
        Digits.Agree(c.Number("naive_ols_slope"), fit.UncorrectedSlope, new(12), "uncorrected");
        Digits.Agree(c.Number("reliability_ratio"), fit.Reliability, new(12), "reliability");
    }
}
