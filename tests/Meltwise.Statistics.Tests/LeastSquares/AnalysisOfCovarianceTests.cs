using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.LeastSquares;
using Xunit;

namespace Meltwise.Statistics.Tests.LeastSquares;

/// <summary>Oracles/statistics/ancova.json: R, lm with emmeans, car and sandwich; 14 digits.</summary>
public sealed class AnalysisOfCovarianceTests
{
    private static readonly JsonElement s_models = Oracle.Read("ancova.json").GetProperty("models");
    private static readonly Digits s_digits = new(10);

    [Theory]
    [InlineData("two_heats")]
    [InlineData("two_heats_log")]
    [InlineData("anorexia")]
    public void Adjusted_means_differences_and_parallelism_agree(string id)
    {
        JsonElement e = s_models.GetProperty(id), means = e.GetProperty("adjusted_means");
        string[] groups = [.. e.GetProperty("groups").EnumerateArray().Select(g => g.GetString()!)];
        CovarianceAnalysis fit = Analyse(id, means.Number("at"));
        for (int g = 0; g < groups.Length; g++)
        {
            (double mean, double error) = fit.Mean(IndexOf(fit, groups[g]));
            Digits.Agree(means.Numbers("mean")[g], mean, s_digits, "adjusted mean");
            Digits.Agree(means.Numbers("se")[g], error, s_digits, "its standard error");
        }
        Digits.Agree(e.GetProperty("coefficients").Number("x"), fit.Slope.Estimate, s_digits, "slope");
        Digits.Agree(e.GetProperty("se").Number("x"), fit.Slope.StandardError, s_digits, "its standard error");
        Digits.Agree(e.GetProperty("hc3_se").Number("x"), fit.Fit.RobustStandardErrors[^1], s_digits, "HC3 standard error");
        Digits.Agree(e.GetProperty("slopes_homogeneity").Number("F"), fit.ParallelismF, new(9), "F of one slope");
        Digits.Agree(e.GetProperty("slopes_homogeneity").Number("p"), fit.ParallelismP, new(9), "its p");
        Digits.Agree(e.Number("sigma"), fit.Fit.Sigma, s_digits, "sigma");
        (double difference, double ofDifference) = fit.Difference(IndexOf(fit, groups[0]), IndexOf(fit, groups[1]));
        Digits.Agree(First(e.GetProperty("adjusted_differences").GetProperty("estimate")), difference, s_digits, "difference");
        Digits.Agree(First(e.GetProperty("adjusted_differences").GetProperty("se")), ofDifference, s_digits, "its standard error");
    }

    // Breaking strength of fibres of three machines against their diameter: [MontgomeryDesign], ch. 15 (data from memory). Published with the SAS output of the example: adjusted means 40.3824, 41.4192, 38.7984,
    // mean square 2.544172, F of equal slopes 0.49.
    [Fact]
    public void The_published_example_of_three_machines_is_reproduced()
    {
        double[] strength = [36, 41, 39, 42, 49, 40, 48, 39, 45, 44, 35, 37, 42, 34, 32], diameter = [20, 25, 24, 25, 32, 22, 28, 22, 30, 28, 21, 23, 26, 21, 15];
        CovarianceAnalysis fit = AnalysisOfCovariance.Fit(strength, [.. Enumerable.Range(0, 15).Select(i => $"machine {i / 5 + 1}")], diameter, diameter.Average());
        Digits.Agree(40.3824, fit.Mean(0).Estimate, new(6), "machine 1");
        Digits.Agree(41.4192, fit.Mean(1).Estimate, new(6), "machine 2");
        Digits.Agree(38.7984, fit.Mean(2).Estimate, new(6), "machine 3");
        Digits.Agree(2.544172, fit.Fit.Sigma * fit.Fit.Sigma, new(7), "mean square");
        Digits.Agree(0.49, fit.ParallelismF, new(2), "F of equal slopes");
    }

    [Theory]
    [InlineData("two_heats")]
    [InlineData("anorexia")]
    public void Influence_agrees(string id)
    {
        JsonElement e = s_models.GetProperty(id);
        LinearFit fit = Analyse(id, e.GetProperty("adjusted_means").Number("at")).Fit;
        for (int i = 0; i < fit.Residuals.Length; i++)
        {
            Digits.Agree(e.Numbers("leverage")[i], fit.Leverage[i], s_digits, "leverage");
            Digits.Agree(e.Numbers("cooks_distance")[i], fit.CooksDistances[i], new(8), "Cook's distance");
            Digits.Agree(e.Numbers("studentized_deleted_residuals")[i], fit.StudentizedDeletedResiduals[i], new(8), "deleted residual");
        }
    }

    private static CovarianceAnalysis Analyse(string id, double at)
    {
        if (id == "anorexia")
        {
            Table a = Table.Published("anorexia.csv");
            return AnalysisOfCovariance.Fit(a.Numbers("Postwt"), a.Text("Treat"), a.Numbers("Prewt"), at);
        }
        Table t = Table.MadeUp("madeup_two_heats.csv");
        double[] y = t.Numbers("energy_j");
        return AnalysisOfCovariance.Fit(id == "two_heats_log" ? [.. y.Select(v => Math.Log(v))] : y, t.Text("heat"), t.Numbers("hrc"), at);
    }

    private static int IndexOf(CovarianceAnalysis fit, string group) => fit.Groups.ToList().IndexOf(group);

    private static double First(JsonElement e) => e.ValueKind == JsonValueKind.Array ? e[0].Number() : e.Number();
}
