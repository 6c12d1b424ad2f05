using System.Globalization;
using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Extremes;
using Xunit;

namespace Meltwise.Statistics.Tests.Extremes;

/// <summary>Oracles/statistics/extreme_weibull.json: 40-digit Newton on the likelihood equations; GEV to 14 digits.</summary>
public sealed class ExtremesTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("extreme_weibull.json");
    private static readonly JsonElement s_cases = s_oracle.GetProperty("cases");

    private static double[] Inclusions(string heat)
    {
        Table t = Table.MadeUp("madeup_inclusions.csv");
        return [.. t.Numbers("max_length_um").Where((_, i) => t.Text("heat")[i] == heat)];
    }

    [Theory]
    [InlineData("portpirie_gumbel")]
    [InlineData("inclusions_A")]
    [InlineData("inclusions_B")]
    public void Gumbel_fit_and_return_levels_agree(string id)
    {
        JsonElement e = s_cases.GetProperty(id).GetProperty("computed");
        double[] x = id == "portpirie_gumbel" ? Table.Published("portpirie.csv").Numbers("y") : Inclusions(id[^1..]);
        GumbelFit fit = GumbelLargest.Fit(x);
        Digits.Agree(e.Number("location"), fit.Location, new(10), "location");
        Digits.Agree(e.Number("scale"), fit.Scale, new(10), "scale");
        Digits.Agree(e.Number("loglik"), fit.LogLikelihood, new(10), "log-likelihood");
        Digits.Agree(e.Number("se_location_observed"), Math.Sqrt(fit.ObservedCovariance.Location), new(9), "observed");
        Digits.Agree(e.Number("se_scale_observed"), Math.Sqrt(fit.ObservedCovariance.Scale), new(9), "observed");
        Digits.Agree(e.Number("cov_observed"), fit.ObservedCovariance.Cross, new(8), "observed");
        Digits.Agree(e.Number("se_location_expected"), Math.Sqrt(fit.ExpectedCovariance.Location), new(9), "expected");
        Digits.Agree(e.Number("se_scale_expected"), Math.Sqrt(fit.ExpectedCovariance.Scale), new(9), "expected");
        Digits.Agree(e.Number("cov_expected"), fit.ExpectedCovariance.Cross, new(8), "expected");
        foreach (JsonProperty level in e.GetProperty("return_levels").EnumerateObject())
        {
            double period = double.Parse(level.Name[2..], CultureInfo.InvariantCulture);
            Digits.Agree(level.Value.Number("level"), fit.ReturnLevel(period).Level, new(10), level.Name);
            Digits.Agree(level.Value.Number("se_delta_observed"), fit.ReturnLevel(period).StandardError, new(8), level.Name);
            Digits.Agree(level.Value.Number("se_delta_expected"), fit.ReturnLevel(period, expected: true).StandardError, new(8), level.Name);
        }
    }

    // Coles (2001), An Introduction to Statistical Modeling of Extreme Values, 3.4.1: location 3.87, scale 0.195, log-likelihood 4.22 (Gumbel); shape -0.050 (0.098), 4.34 (GEV).
    [Fact]
    public void Sea_levels_as_printed()
    {
        double[] x = Table.Published("portpirie.csv").Numbers("y");
        GumbelFit gumbel = GumbelLargest.Fit(x);
        new Published("3.87").Agrees(gumbel.Location, "location");
        new Published("0.195").Agrees(gumbel.Scale, "scale");
        new Published("4.22").Agrees(gumbel.LogLikelihood, "log-likelihood");
        GevFit gev = GeneralizedExtremeValue.Fit(x);
        new Published("-0.050").Agrees(gev.Shape, "shape");
        new Published("0.098").Agrees(gev.StandardErrors.Shape, "its standard error");
        new Published("4.34").Agrees(gev.LogLikelihood, "log-likelihood");
    }

    [Fact]
    public void Generalized_fit_agrees()
    {
        JsonElement e = s_cases.GetProperty("portpirie_gev").GetProperty("computed");
        GevFit fit = GeneralizedExtremeValue.Fit(Table.Published("portpirie.csv").Numbers("y"));
        Digits.Agree(e.Number("location"), fit.Location, new(7), "location");
        Digits.Agree(e.Number("scale"), fit.Scale, new(7), "scale");
        Digits.Agree(e.Number("shape_xi"), fit.Shape, new(6), "shape");
        Digits.Agree(e.Number("loglik"), fit.LogLikelihood, new(9), "log-likelihood");
        double[] errors = e.Numbers("se");
        Digits.Agree(errors[0], fit.StandardErrors.Location, new(4.5), "standard error");
        Digits.Agree(errors[1], fit.StandardErrors.Scale, new(4.5), "standard error");
        Digits.Agree(errors[2], fit.StandardErrors.Shape, new(4.5), "standard error");
    }

    [Fact]
    public void Two_heats_by_the_likelihood_ratio()
    {
        JsonElement e = s_cases.GetProperty("inclusions_likelihood_ratio_A_vs_B").GetProperty("computed");
        (double statistic, double p) = GumbelLargest.SameDistribution(Inclusions("A"), Inclusions("B"));
        Digits.Agree(e.Number("lr"), statistic, new(9), "statistic");
        Digits.Agree(e.Number("p_chi2"), p, new(9), "p");
    }

    [Theory]
    [InlineData("weibull_complete")]
    [InlineData("weibull_censored")]
    [InlineData("ball_bearings")]
    [InlineData("air_conditioning")]
    public void Weibull_fit_agrees(string id)
    {
        JsonElement e = s_cases.GetProperty(id).GetProperty("computed");
        WeibullFit fit = Weibull(id);
        Digits.Agree(e.Number("shape"), fit.Shape, new(10), "shape");
        Digits.Agree(e.Number("scale"), fit.Scale, new(10), "scale");
        Digits.Agree(e.Number("loglik"), fit.LogLikelihood, new(10), "log-likelihood");
        Digits.Agree(e.Number("se_shape"), fit.ShapeStandardError, new(9), "standard error of the shape");
        Digits.Agree(e.Number("se_scale"), fit.ScaleStandardError, new(9), "standard error of the scale");
        Digits.Agree(e.Number("cov"), fit.Covariance, new(8), "covariance");
        Digits.Agree(e.Number("mean"), fit.Mean, new(9), "mean");
        Digits.Agree(e.Number("quantile_0_01"), fit.Quantile(0.01), new(9), "1 % quantile");
    }

    private static WeibullFit Weibull(string id)
    {
        switch (id)
        {
            case "weibull_complete": return WeibullStrength.Fit(Table.MadeUp("madeup_weibull.csv").Numbers("strength_mpa"));
            case "weibull_censored":
                Table t = Table.MadeUp("madeup_weibull_censored.csv");
                return WeibullStrength.Fit(t.Numbers("strength_mpa"), [.. t.Numbers("failed").Select(f => f == 1)]);
            case "ball_bearings": return WeibullStrength.Fit(s_cases.GetProperty(id).Numbers("x"));
            default: return WeibullStrength.Fit(Table.Published("aircondit.csv").Numbers("hours"));
        }
    }

    // Thoman, Bain and Antle (1969), Technometrics 11, 445, unbiasing factors (from memory); independent simulation lies within 0.8 percent.
    [Fact]
    public void Unbiasing_factors_are_those_of_the_table()
    {
        foreach (JsonElement row in s_oracle.GetProperty("weibull_shape_bias").GetProperty("rows").EnumerateArray())
        {
            WeibullFit fit = new(10, 100, 0, 1, 1, 0, (int)row.Number("n"), (int)row.Number("n"));
            Digits.Agree(10 * row.Number("published_table_value"), fit.UnbiasedShape, new(12), "table");
            Assert.InRange(fit.UnbiasedShape!.Value / (10 * row.Number("unbiasing_factor")), 0.992, 1.008);
        }
    }

    [Fact]
    public void A_sample_with_survivors_has_no_unbiasing_factor() => Assert.Null(Weibull("weibull_censored").UnbiasedShape);
}
