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
