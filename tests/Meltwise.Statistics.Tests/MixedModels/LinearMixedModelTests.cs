using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.MixedModels;
using Xunit;

namespace Meltwise.Statistics.Tests.MixedModels;

/// <summary>Oracles/statistics/mixed.json: independent REML program with dense matrices, confirmed by lme4, lmerTest and pbkrtest; 10 to 12 digits. Asked for: 8.</summary>
public sealed class LinearMixedModelTests
{
    private static readonly JsonElement s_models = Oracle.Read("mixed.json").GetProperty("models");
    private static readonly Digits s_digits = new(8);

    public static TheoryData<string> Models => ["rail", "dyestuff", "pastes", "penicillin", "machines", "ergostool", "oxide", "oxide_source",
        "suppliers_heats_log", "suppliers_heats_log_no_hrc", "suppliers_heats_raw", "balanced_heats"];

    [Theory]
    [MemberData(nameof(Models))]
    public void Components_and_likelihood_agree(string id)
    {
        JsonElement model = s_models.GetProperty(id);
        MixedFit fit = MixedModelCases.Fit(id);

        Digits.Agree(model.Number("reml_loglik"), fit.LogLikelihood, new(11), "log-likelihood");
        double[] expected = [.. model.GetProperty("variance_components").EnumerateObject().Select(p => p.Value.Number())];
        for (int k = 0; k < expected.Length; k++)
            Digits.Agree(expected[k], fit.Components[k].Variance, s_digits, fit.Components[k].Name);
        Matrix(model, "asymptotic_cov_of_variance_components_observed_info", fit.ComponentCovariance()!);
        Matrix(model, "asymptotic_cov_expected_info", fit.ComponentCovariance(expected: true)!);
        Matrix(model, "vcov", fit.CoefficientCovariance);
    }

    [Theory]
    [MemberData(nameof(Models))]
    public void Coefficients_and_their_degrees_of_freedom_agree(string id)
    {
        MixedFit fit = MixedModelCases.Fit(id);
        int j = 0;
        foreach (JsonProperty coefficient in s_models.GetProperty(id).GetProperty("fixed").EnumerateObject())
        {
            JsonElement e = coefficient.Value;
            MixedContrast kr = fit.Coefficient(j);
            Digits.Agree(e.Number("estimate"), kr.Estimate, s_digits, "estimate");
            Digits.Agree(e.Number("kenward_roger_se"), kr.StandardError, s_digits, "Kenward-Roger standard error");
            Digits.Agree(e.Number("kenward_roger_df"), kr.DegreesOfFreedom, s_digits, "Kenward-Roger degrees of freedom");
            Digits.Agree(e.Number("kenward_roger_p"), kr.P, new(7), "p");
            MixedContrast observed = fit.Coefficient(j, DegreesOfFreedomMethod.SatterthwaiteObserved);
            Digits.Agree(e.Number("se"), observed.StandardError, s_digits, "standard error");
            Digits.Agree(e.Number("satterthwaite_df_observed_info"), observed.DegreesOfFreedom, s_digits, "observed information");
            Digits.Agree(e.Number("satterthwaite_df_expected_info"), fit.Coefficient(j, DegreesOfFreedomMethod.SatterthwaiteExpected).DegreesOfFreedom, s_digits, "expected information");
            j++;
        }
    }

    // The same models by lme4, lmerTest and pbkrtest, Oracles/statistics/mixed_r_check.json. Satterthwaite there differentiates numerically and holds 4 to 6 digits.
    [Theory]
    [MemberData(nameof(Models))]
    public void Degrees_of_freedom_agree_with_R(string id)
    {
        JsonElement r = Oracle.Read("mixed_r_check.json").GetProperty("checks").GetProperty(id);
        double[] satterthwaite = Several(r.GetProperty("satterthwaite_df_R")), kenwardRoger = Several(r.GetProperty("kenward_roger_df_R"));
        MixedFit fit = MixedModelCases.Fit(id);
        for (int j = 0; j < satterthwaite.Length; j++)
        {
            Digits.Agree(satterthwaite[j], fit.Coefficient(j, DegreesOfFreedomMethod.SatterthwaiteObserved).DegreesOfFreedom, new(4), $"Satterthwaite {j}");
            Digits.Agree(kenwardRoger[j], fit.Coefficient(j).DegreesOfFreedom, new(6), $"Kenward-Roger {j}");
        }
    }

    private static double[] Several(JsonElement e) => e.ValueKind == JsonValueKind.Array ? e.Numbers() : [e.Number()];

    [Theory]
    [MemberData(nameof(Models))]
    public void Predicted_effects_agree(string id)
    {
        IReadOnlyList<RandomEffect> effects = MixedModelCases.Fit(id).Effects(0);
        double largest = effects.Max(e => Math.Abs(e.Effect));
        foreach (JsonProperty level in s_models.GetProperty(id).GetProperty("blup_first_term").EnumerateObject())
            Assert.Equal(level.Value.Number(), effects.Single(e => e.Label == level.Name).Effect, 1e-8 * largest);
    }

    [Theory]
    [InlineData("machines", "machine (2 df)")]
    [InlineData("ergostool", "type (3 df)")]
    public void Joint_tests_agree(string id, string test)
    {
        JsonElement e = s_models.GetProperty(id).GetProperty("tests").GetProperty(test);
        int rank = (int)e.Number("ndf");
        MixedJointTest joint = MixedModelCases.Fit(id).JointTest([.. Enumerable.Range(1, rank).Select(k => Unit(rank + 1, k))]);
        Digits.Agree(e.Number("F"), joint.F, s_digits, "F");
        Digits.Agree(e.Number("ddf"), joint.DenominatorDf, s_digits, "denominator degrees of freedom");
        Digits.Agree(e.Number("p"), joint.P, new(7), "p");
    }

    // Box and Tiao's second set of dyestuff data: the between-batch estimate is negative and REML sits exactly on 0.
    [Fact]
    public void A_negative_component_is_zero_and_said()
    {
        JsonElement model = s_models.GetProperty("dyestuff2");
        MixedFit fit = MixedModelCases.Fit("dyestuff2");
        Assert.Equal(0, fit.Components[0].Variance);
        Digits.Agree(model.GetProperty("variance_components").Number("residual"), fit.Components[1].Variance, s_digits, "residual");
        Digits.Agree(model.Number("reml_loglik"), fit.LogLikelihood, new(11), "log-likelihood");
        Assert.Contains(fit.Notes, n => n.Contains("variance of Batch is 0", StringComparison.Ordinal));
    }

    // Pinheiro and Bates (2000), Mixed-Effects Models in S and S-PLUS, section 1.1 (rails), as printed.
    [Fact]
    public void Rails_as_printed()
    {
        MixedFit fit = MixedModelCases.Fit("rail");
        new Published("66.5").Agrees(fit.Coefficients[0], "intercept");
        new Published("24.80547").Agrees(fit.Components[0].StandardDeviation, "rail");
        new Published("4.020779").Agrees(fit.Components[1].StandardDeviation, "residual");
        new Published("-61.0885").Agrees(fit.LogLikelihood, "log-likelihood");
    }

    // A balanced design has a hand answer: the supplier t is the t of heat means with 2(h - 1) degrees of freedom.
    [Fact]
    public void Balanced_heats_are_a_t_test_on_heat_means()
    {
        JsonElement t = s_models.GetProperty("balanced_heats").GetProperty("t_test_on_heat_means");
        MixedContrast contrast = MixedModelCases.Fit("balanced_heats").Coefficient(1);
        Digits.Agree(t.Number("t"), contrast.T, new(10), "t");
        Digits.Agree(t.Number("p"), contrast.P, new(9), "p");
    }

    [Fact]
    public void A_factor_that_is_the_residual_is_refused() =>
        Assert.Contains("cannot be told from the residual", Assert.Throws<InsufficientDataException>(() =>
            LinearMixedModel.Fit([1, 2, 4], [[1, 1, 1]], ["mean"], [RandomTerm.Of("coupon", ["a", "b", "c"])])).Message, StringComparison.Ordinal);

    [Fact]
    public void A_dependent_column_is_named() =>
        Assert.Contains("'source Q'", Assert.Throws<InsufficientDataException>(() =>
            LinearMixedModel.Fit([1, 2, 4, 5], [[1, 1, 1, 1], [2, 2, 2, 2]], ["mean", "source Q"], [RandomTerm.Of("heat", ["a", "a", "b", "b"])])).Message, StringComparison.Ordinal);

    // Oracles/statistics/mixed_r_check.json, profile of lme4 by maximum likelihood; its own spline holds 3.8 digits at the lower limit.
    [Fact]
    public void Profile_intervals_agree()
    {
        JsonElement r = Oracle.Read("mixed_r_check.json").GetProperty("dyestuff_profile_ci_ML");
        double[] lower = r.Numbers("lower"), upper = r.Numbers("upper");
        MixedFit fit = MixedModelCases.Fit("dyestuff", Likelihood.Full);
        (double Lower, double Upper)[] ours = [ProfileIntervals.StandardDeviation(fit, 0, 0.95), ProfileIntervals.StandardDeviation(fit, 1, 0.95), ProfileIntervals.Coefficient(fit, 0, 0.95)];
        for (int i = 0; i < 3; i++)
        {
            Digits.Agree(lower[i], ours[i].Lower, new(3.7), $"lower {i}");
            Digits.Agree(upper[i], ours[i].Upper, new(3.7), $"upper {i}");
        }
    }

    [Fact]
    public void A_profile_that_never_leaves_zero_starts_there() =>
        Assert.Equal(0, ProfileIntervals.StandardDeviation(MixedModelCases.Fit("dyestuff2"), 0, 0.95).Lower);

    private static double[] Unit(int n, int k) => [.. Enumerable.Range(0, n).Select(i => i == k ? 1.0 : 0.0)];

    private static void Matrix(JsonElement model, string name, double[,] actual)
    {
        double[][] expected = [.. model.GetProperty(name).EnumerateArray().Select(r => r.Numbers())];
        for (int i = 0; i < expected.Length; i++)
            for (int j = 0; j < expected.Length; j++)
            {
                double scale = Math.Sqrt(expected[i][i] * expected[j][j]);
                Assert.True(Math.Abs(actual[i, j] - expected[i][j]) < 1e-8 * scale, $"{name}[{i},{j}]: {expected[i][j]:R} against {actual[i, j]:R}");
            }
    }
}
