using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.LeastSquares;
using Xunit;

namespace Meltwise.Statistics.Tests.LeastSquares;

/// <summary>Oracles/statistics/gls_variance.json: nlme::gls with tight tolerances, 6 to 8 digits, 5 for sigma and exponent, which move together where its fixed point stops. Asked for: as much.</summary>
public sealed class ScatterTrendRegressionTests
{
    private static readonly JsonElement s_models = Oracle.Read("gls_variance.json").GetProperty("models");

    [Theory]
    [InlineData("madeup_power_fitted", true)]
    [InlineData("madeup_power_fitted_ML", false)]
    public void Cells_with_power_of_the_mean(string id, bool restricted)
    {
        Table t = Table.MadeUp("madeup_mean_dependent_scatter.csv");
        string[] cell = [.. t.Text("heat").Zip(t.Text("condition"), (h, c) => h + "." + c)];
        string[] others = ["B.T200", "A.T400", "B.T400", "A.T500", "B.T500"];
        Compare(id, ScatterTrendRegression.Fit(t.Numbers("energy_j"), [Ones(cell.Length), .. others.Select(o => Is(cell, o))], ["A.T200", .. others], restricted: restricted));
    }

    [Theory]
    [InlineData("madeup_power_main", ScatterTrend.Power)]
    [InlineData("madeup_exp", ScatterTrend.Exponential)]
    public void Main_effects(string id, ScatterTrend trend)
    {
        Table t = Table.MadeUp("madeup_mean_dependent_scatter.csv");
        double[] y = t.Numbers("energy_j");
        Compare(id, ScatterTrendRegression.Fit(y, [Ones(y.Length), t.Is("heat", "B"), t.Is("condition", "T400"), t.Is("condition", "T500")],
            ["mean", "B", "T400", "T500"], trend: trend));
    }

    [Fact]
    public void Interlaboratory_glucose_by_material()
    {
        Table t = Table.Published("e691_glucose.csv");
        string[] materials = [.. t.Text("Material").Distinct().Order()];
        double[] y = t.Numbers("Glucose");
        Compare("glucose_power", ScatterTrendRegression.Fit(y, [Ones(y.Length), .. materials.Skip(1).Select(m => t.Is("Material", m))], materials));
    }

    // High-flux dialysers, Vonesh and Carter (1992): quartic in pressure by flow; the covariate is given, so this is a true maximum.
    [Fact]
    public void Quartic_with_power_of_a_covariate()
    {
        Table t = Table.Published("dialyzer.csv");
        double[] x = t.Numbers("pressure"), flow = t.Is("QB", "300");
        List<double[]> columns = [Ones(x.Length), x, Power(x, 2), Power(x, 3), Power(x, 4), flow];
        for (int k = 1; k <= 4; k++) columns.Add([.. Power(x, k).Zip(flow, (a, b) => a * b)]);
        ScatterTrendFit fit = ScatterTrendRegression.Fit(t.Numbers("rate"), columns, [.. columns.Select((_, i) => $"c{i}")], covariate: x);
        Compare("dialyzer_power", fit);
        double[] interval = [.. s_models.GetProperty("dialyzer_power").GetProperty("var_param_ci95")[0].EnumerateArray().Select(e => e.GetDouble())];
        Digits.Agree((interval[2] - interval[0]) / (2 * 1.959963984540054), fit.ExponentStandardError, new(2.5), "standard error of the exponent");
    }

    private static void Compare(string id, ScatterTrendFit fit)
    {
        JsonElement e = s_models.GetProperty(id);
        int j = 0;
        foreach (JsonProperty estimate in e.GetProperty("estimates").EnumerateObject())
            Digits.Agree(estimate.Value.Number(), fit.Coefficients[j++], new(6), estimate.Name);
        j = 0;
        foreach (JsonProperty error in e.GetProperty("se").EnumerateObject())
            Digits.Agree(error.Value.Number(), fit.StandardErrors[j++], new(5.5), "standard error of " + error.Name);
        Digits.Agree(e.Number("sigma"), fit.Sigma, new(5), "sigma");
        Digits.Agree(e.GetProperty("var_params").EnumerateObject().First().Value.Number(), fit.Exponent, new(5), "exponent");
        Digits.Agree(e.Number("loglik"), fit.LogLikelihood, new(8), "log-likelihood");
    }

    private static double[] Ones(int n) => [.. Enumerable.Repeat(1.0, n)];

    private static double[] Is(string[] values, string value) => [.. values.Select(v => v == value ? 1.0 : 0.0)];

    private static double[] Power(double[] x, int k) => [.. x.Select(v => Math.Pow(v, k))];
}
