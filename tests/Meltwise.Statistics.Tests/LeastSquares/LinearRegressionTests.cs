using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.LeastSquares;
using Xunit;

namespace Meltwise.Statistics.Tests.LeastSquares;

/// <summary>NIST StRD, linear regression, all eleven sets. Exact rational least squares on the stored doubles reaches 13.2 to 15 digits (attainable);
/// double arithmetic loses what the columns' condition takes: Filip's powers up to x^10 are nearly dependent, Wampler 4 and 5 have residuals 1e5 times the fit.</summary>
public sealed class LinearRegressionTests
{
    [Theory]
    [InlineData("Norris", 12.0)]
    [InlineData("Pontius", 11.0)]
    [InlineData("NoInt1", 14.0)]
    [InlineData("NoInt2", 14.0)]
    [InlineData("Filip", 6.5)]
    [InlineData("Longley", 10.5)]
    [InlineData("Wampler1", 8.5)]
    [InlineData("Wampler2", 11.5)]
    [InlineData("Wampler3", 8.5)]
    [InlineData("Wampler4", 7.0)]
    [InlineData("Wampler5", 5.5)]
    public void Coefficients_agree_with_the_certified_values(string set, double digits)
    {
        JsonElement nist = Nist.Read(set), certified = nist.GetProperty("certified");
        LinearFit fit = Fit(nist);
        double[] expected = certified.Numbers("estimates"), errors = certified.Numbers("standard_deviations");
        for (int j = 0; j < expected.Length; j++)
        {
            Digits.Agree(expected[j], fit.Coefficients[j], new(digits), $"B{j}");
            if (errors[j] > 0) Digits.Agree(errors[j], fit.StandardError(j), new(Math.Min(digits, 11)), $"standard deviation of B{j}");
        }
        if (certified.Number("residual_sd") > 0) Digits.Agree(certified.Number("residual_sd"), fit.Sigma, new(Math.Min(digits + 1, 11)), "residual standard deviation");
    }

    // JCGM 100:2008, H.3, calibration curve of a thermometer: y1 = -0.1712 (0.0029), y2 = 0.00218 (0.00067), r = -0.930; at 30 °C -0.1494 (0.0041).
    [Fact]
    public void Calibration_curve_of_a_thermometer()
    {
        JsonElement e = Oracle.Read("gum_conformity.json").GetProperty("cases").GetProperty("gum_H3_thermometer"), c = e.GetProperty("computed"), inputs = e.GetProperty("inputs");
        double[] b = inputs.Numbers("b"), t = [.. inputs.Numbers("t").Select(v => v - inputs.Number("t0"))];
        LinearFit fit = LinearRegression.Fit(b, [[.. b.Select(_ => 1.0)], t], ["y1", "y2"]);
        Digits.Agree(c.Number("y1"), fit.Coefficients[0], new(12), "y1");
        Digits.Agree(c.Number("y2"), fit.Coefficients[1], new(11), "y2");
        Digits.Agree(c.Number("s_y1"), fit.StandardError(0), new(12), "s(y1)");
        Digits.Agree(c.Number("s_y2"), fit.StandardError(1), new(12), "s(y2)");
        Digits.Agree(c.Number("r"), fit.Covariance[0, 1] / (fit.StandardError(0) * fit.StandardError(1)), new(12), "r");
        Digits.Agree(c.Number("s"), fit.Sigma, new(12), "s");
        (double at30, double u) = fit.Combination([1, 10]);
        Digits.Agree(c.Number("b_30C"), at30, new(12), "correction at 30 °C");
        Digits.Agree(c.Number("u_b_30C"), u, new(12), "its uncertainty");
        new Published("0.0041").Agrees(u, "as printed");
    }

    // Oracles/statistics/gls_variance.json, ordinary least squares of the dialyser data and of log SD on log mean: nlme::gls and lm.
    [Fact]
    public void Quartic_by_flow_and_log_scatter_on_log_mean()
    {
        JsonElement oracle = Oracle.Read("gls_variance.json"), e = oracle.GetProperty("models").GetProperty("dialyzer_ols"), log = oracle.GetProperty("log_sd_on_log_mean");
        Table t = Table.Published("dialyzer.csv");
        double[] x = t.Numbers("pressure"), flow = t.Is("QB", "300");
        List<double[]> columns = [[.. x.Select(_ => 1.0)], .. Enumerable.Range(1, 4).Select(k => x.Select(v => Power(v, k)).ToArray())];
        columns.Insert(5, flow);
        columns.AddRange([.. Enumerable.Range(1, 4).Select(k => x.Select((v, i) => Power(v, k) * flow[i]).ToArray())]);
        LinearFit fit = LinearRegression.Fit(t.Numbers("rate"), columns, [.. columns.Select((_, j) => $"c{j}")]);
        Same(e.GetProperty("estimates"), j => fit.Coefficients[j]);
        Same(e.GetProperty("se"), fit.StandardError);
        Digits.Agree(e.Number("sigma"), fit.Sigma, new(9), "sigma");

        double[] mean = [.. log.Numbers("mean").Select(v => Math.Log(v))];
        LinearFit line = LinearRegression.Fit([.. log.Numbers("sd").Select(v => Math.Log(v))], [[.. mean.Select(_ => 1.0)], mean], ["intercept", "exponent"]);
        Digits.Agree(log.Number("slope"), line.Coefficients[1], new(11), "exponent");
        Digits.Agree(log.Number("slope_se"), line.StandardError(1), new(11), "its standard error");
    }

    private static void Same(JsonElement expected, Func<int, double> ours)
    {
        int j = 0;
        foreach (JsonProperty e in expected.EnumerateObject()) Digits.Agree(e.Value.Number(), ours(j++), new(8), e.Name);
    }

    private static LinearFit Fit(JsonElement nist)
    {
        double[] y = nist.GetProperty("data").Numbers("y");
        double[][] x = [.. nist.GetProperty("data").GetProperty("x").EnumerateArray().Select(r => r.Numbers())];
        string model = nist.Text("model");
        List<double[]> columns = [];
        if (model.Contains("B0", StringComparison.Ordinal)) columns.Add([.. y.Select(_ => 1.0)]);
        if (model.Contains('^', StringComparison.Ordinal))
            for (int power = 1; model.Contains($"x^{power}", StringComparison.Ordinal); power++) columns.Add([.. x.Select(r => Power(r[0], power))]);
        else
            for (int j = 0; j < x[0].Length; j++) columns.Add([.. x.Select(r => r[j])]);
        return LinearRegression.Fit(y, columns, [.. columns.Select((_, j) => $"B{j}")]);
    }

    private static double Power(double x, int k)
    {
        double product = 1;
        for (int i = 0; i < k; i++) product *= x;
        return product;
    }
}
