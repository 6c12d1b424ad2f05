using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.MixedModels;
using Xunit;

namespace Meltwise.Statistics.Tests.MixedModels;

/// <summary>
/// Oracles/statistics/unequal_scatter.json (nlme::lme, invented heats, 4 to 7 digits where its optimiser and fixed point stop), gls_variance.json (nlme), mixed_r_check.json (lme4, lmerTest, pbkrtest: random slopes) and mixed.json (dense REML program).
/// Published figures: Pinheiro and Bates (2000), Mixed-Effects Models in S and S-PLUS; Bates et al. (2015), J. Stat. Softw. 67(1).
/// </summary>
public sealed class UnequalScatterModelTests
{
    private static readonly JsonElement s_made = Oracle.Read("unequal_scatter.json");

    [Theory]
    [InlineData("powerOfFitted")]
    [InlineData("powerOfGiven")]
    [InlineData("byGroup")]
    [InlineData("byGroupFull")]
    public void Heats_at_three_tempers_agree(string id)
    {
        string[] heat = [.. s_made.GetProperty("heat").EnumerateArray().Select(h => h.GetString()!)], temper = [.. s_made.GetProperty("temper").EnumerateArray().Select(t => t.GetString()!)];
        double[] y = s_made.Numbers("y");
        ScatterModel scatter = id switch
        {
            "powerOfFitted" => new ScatterModel.PowerOfMean(),
            "powerOfGiven" => new ScatterModel.PowerOfMean(s_made.Numbers("mean")),
            _ => new ScatterModel.ByGroup(RandomTerm.Of("temper", temper)),
        };
        UnequalScatterFit fit = UnequalScatterModel.Fit(y, [Ones(y.Length), Is(temper, "T2"), Is(temper, "T3")], ["T1", "T2", "T3"], [new(RandomTerm.Of("heat", heat))], scatter,
            id == "byGroupFull" ? Likelihood.Full : Likelihood.Restricted);
        JsonElement e = s_made.GetProperty(id);
        Digits.Agree(e.Number("loglik"), fit.LogLikelihood, new(9), "log-likelihood");
        for (int j = 0; j < 3; j++)
        {
            Digits.Agree(e.Numbers("fixed")[j], fit.Coefficients[j], new(6), $"coefficient {j}");
            Digits.Agree(e.Numbers("se")[j], Math.Sqrt(fit.CoefficientCovariance[j, j]), new(4.8), $"standard error {j}");
        }
        Digits.Agree(e.Number("sdHeat"), Math.Sqrt(fit.CovarianceOf(0)[0, 0]), new(4.8), "heat to heat");
        Digits.Agree(e.Number("sigma"), fit.Sigma, new(4), "sigma");
        double[] parameters = e.GetProperty("scatter").ValueKind == JsonValueKind.Array ? [.. e.Numbers("scatter").Select(v => Math.Log(v))] : [e.Number("scatter")];
        for (int k = 0; k < parameters.Length; k++) Digits.Agree(parameters[k], fit.ScatterParameters[k].Estimate, new(4.5), fit.ScatterParameters[k].Name);
    }

    // Generalized least squares with a variance per condition: nlme::gls with varIdent; limits of its parameters by the observed information of the logarithms.
    [Fact]
    public void A_scatter_for_each_condition_agrees()
    {
        JsonElement e = Oracle.Read("gls_variance.json").GetProperty("models").GetProperty("madeup_ident");
        Table t = Table.MadeUp("madeup_mean_dependent_scatter.csv");
        double[] y = t.Numbers("energy_j");
        UnequalScatterFit fit = UnequalScatterModel.Fit(y, [Ones(y.Length), t.Is("heat", "B"), t.Is("condition", "T400"), t.Is("condition", "T500")], ["mean", "B", "T400", "T500"], [],
            new ScatterModel.ByGroup(RandomTerm.Of("condition", t.Text("condition"))));
        Digits.Agree(e.Number("loglik"), fit.LogLikelihood, new(9), "log-likelihood");
        Digits.Agree(e.Number("sigma"), fit.Sigma, new(6), "sigma");
        int j = 0;
        foreach (JsonProperty c in e.GetProperty("estimates").EnumerateObject()) Digits.Agree(c.Value.Number(), fit.Coefficients[j++], new(7), c.Name);
        j = 0;
        foreach (JsonProperty c in e.GetProperty("se").EnumerateObject()) Digits.Agree(c.Value.Number(), Math.Sqrt(fit.CoefficientCovariance[j, j++]), new(6), "standard error of " + c.Name);
        j = 0;
        foreach (JsonProperty ratio in e.GetProperty("var_params").EnumerateObject())
        {
            ScatterParameter p = fit.ScatterParameters[j];
            double[] limits = e.GetProperty("var_param_ci95")[j++].Numbers();
            Digits.Agree(ratio.Value.Number(), Math.Exp(p.Estimate), new(6), ratio.Name);
            Digits.Agree(Math.Log(limits[2] / limits[0]) / (2 * 1.959963984540054), p.StandardError, new(2.5), "standard error of " + ratio.Name);
        }
    }

    // Rats' weights, Pinheiro and Bates (2000), 5.2.2: exponent 0.543 of the fitted mean, restricted log-likelihood -575.860 with one scatter and -570.960 with the power.
    [Fact]
    public void Body_weight_with_scatter_as_a_power_of_the_mean()
    {
        JsonElement e = Oracle.Read("gls_variance.json").GetProperty("bodyweight_lme");
        Table t = Table.Published("bodyweight.csv");
        double[] time = t.Numbers("Time"), one = Ones(time.Length), diet2 = t.Is("Diet", "2"), diet3 = t.Is("Diet", "3");
        double[][] columns = [one, time, diet2, diet3, [.. time.Zip(diet2, (a, b) => a * b)], [.. time.Zip(diet3, (a, b) => a * b)]];
        string[] names = ["mean", "Time", "Diet2", "Diet3", "Time:Diet2", "Time:Diet3"];
        RandomCoefficients[] rats = [new(RandomTerm.Of("rat", t.Text("Rat")), [one, time])];
        UnequalScatterFit constant = UnequalScatterModel.Fit(t.Numbers("weight"), columns, names, rats, new ScatterModel.Constant());
        UnequalScatterFit power = UnequalScatterModel.Fit(t.Numbers("weight"), columns, names, rats, new ScatterModel.PowerOfMean());
        Digits.Agree(e.Number("loglik_constant"), constant.LogLikelihood, new(8), "one scatter");
        Digits.Agree(e.Number("loglik_power"), power.LogLikelihood, new(6), "power");
        Digits.Agree(e.Number("delta"), power.ScatterParameters[0].Estimate, new(3.5), "exponent");
        new Published("-575.860").Agrees(constant.LogLikelihood, "as printed");
        new Published("0.543").Agrees(power.ScatterParameters[0].Estimate, "as printed");
        int j = 0;
        foreach (JsonProperty c in e.GetProperty("fixed").EnumerateObject()) Digits.Agree(c.Value.Number(), power.Coefficients[j++], new(4.5), c.Name);
    }

    [Theory]
    [InlineData("sleepstudy")]
    [InlineData("orthodont")]
    public void Random_slopes_agree(string id)
    {
        JsonElement e = Oracle.Read("mixed_r_check.json").GetProperty(id);
        UnequalScatterFit fit = Slopes(id);
        Digits.Agree(e.Number("reml_criterion"), -2 * fit.LogLikelihood, new(9), "criterion");
        JsonElement[] components = [.. e.GetProperty("varcorr").EnumerateArray()];
        double[,] g = fit.CovarianceOf(0);
        Digits.Agree(components[0].Number("vcov"), g[0, 0], new(5.5), "intercepts");
        Digits.Agree(components[1].Number("vcov"), g[1, 1], new(5.5), "slopes");
        Digits.Agree(components[2].Number("vcov"), g[1, 0], new(4.5), "covariance");
        Digits.Agree(components[3].Number("vcov"), fit.Sigma * fit.Sigma, new(6), "residual");
        int j = 0;
        foreach (JsonElement kr in e.GetProperty("fixed_kenward_roger").EnumerateArray())
        {
            MixedContrast ours = fit.Coefficient(j), satterthwaite = fit.Coefficient(j, DegreesOfFreedomMethod.SatterthwaiteObserved);
            JsonElement s = e.GetProperty("fixed_satterthwaite")[j++];
            Digits.Agree(kr.Number("Estimate"), ours.Estimate, new(8), "estimate");
            Digits.Agree(kr.Number("Std. Error"), ours.StandardError, new(6), "Kenward-Roger standard error");
            Digits.Agree(kr.Number("df"), ours.DegreesOfFreedom, new(6), "Kenward-Roger degrees of freedom");
            Digits.Agree(s.Number("Std. Error"), satterthwaite.StandardError, new(6), "standard error");
            Digits.Agree(s.Number("df"), satterthwaite.DegreesOfFreedom, new(6), "Satterthwaite degrees of freedom");
        }
    }

    private static UnequalScatterFit Slopes(string id)
    {
        Table t = Table.Published(id + ".csv");
        if (id == "sleepstudy")
        {
            double[] days = t.Numbers("Days"), one = Ones(days.Length);
            return UnequalScatterModel.Fit(t.Numbers("Reaction"), [one, days], ["mean", "Days"], [new(RandomTerm.Of("subject", t.Text("Subject")), [one, days])], new ScatterModel.Constant());
        }
        double[] age = [.. t.Numbers("age").Select(a => a - 11)], ones = Ones(age.Length), male = t.Is("Sex", "Male");
        return UnequalScatterModel.Fit(t.Numbers("distance"), [ones, age, male, [.. age.Zip(male, (a, m) => a * m)]], ["mean", "age", "male", "age:male"],
            [new(RandomTerm.Of("subject", t.Text("Subject")), [ones, age])], new ScatterModel.Constant());
    }

    // With one scatter and independent intercepts it is the ordinary mixed model, crossed factors too: the same numbers by two separate programs.
    [Theory]
    [InlineData("suppliers_heats_log")]
    [InlineData("oxide_source")]
    public void Without_unequal_scatter_it_is_the_ordinary_mixed_model(string id)
    {
        MixedFit ordinary = MixedModelCases.Fit(id);
        UnequalScatterFit fit = id == "oxide_source" ? Oxide() : Suppliers();
        Digits.Agree(ordinary.LogLikelihood, fit.LogLikelihood, new(11), "log-likelihood");
        for (int j = 0; j < ordinary.Coefficients.Length; j++)
            foreach (DegreesOfFreedomMethod method in Enum.GetValues<DegreesOfFreedomMethod>())
            {
                MixedContrast a = ordinary.Coefficient(j, method), b = fit.Coefficient(j, method);
                Digits.Agree(a.Estimate, b.Estimate, new(8), $"{method} estimate");
                Digits.Agree(a.StandardError, b.StandardError, new(6), $"{method} standard error");
                Digits.Agree(a.DegreesOfFreedom, b.DegreesOfFreedom, new(5), $"{method} degrees of freedom");
            }
    }

    private static UnequalScatterFit Oxide()
    {
        Table t = Table.Published("oxide.csv");
        double[] y = t.Numbers("Thickness");
        string[] lot = t.Text("Lot");
        return UnequalScatterModel.Fit(y, [Ones(y.Length), t.Is("Source", "2")], ["source 1", "source 2 - source 1"],
            [new(RandomTerm.Of("lot", lot)), new(RandomTerm.Of("wafer in lot", lot.Zip(t.Text("Wafer"), (l, w) => l + "/" + w)))], new ScatterModel.Constant());
    }

    private static UnequalScatterFit Suppliers()
    {
        Table t = Table.MadeUp("madeup_suppliers_heats.csv");
        double[] y = [.. t.Numbers("energy_j").Select(v => Math.Log(v))];
        return UnequalScatterModel.Fit(y, [Ones(y.Length), t.Is("supplier", "Q"), [.. t.Numbers("hrc").Select(h => h - 60)]], ["P", "Q-P", "per HRC"], [new(RandomTerm.Of("heat", t.Text("heat")))], new ScatterModel.Constant());
    }

    [Fact]
    public void A_group_of_one_reading_is_named() =>
        Assert.Contains("'b'", Assert.Throws<InsufficientDataException>(() =>
            UnequalScatterModel.Fit([1, 2, 4], [[1, 1, 1]], ["mean"], [], new ScatterModel.ByGroup(RandomTerm.Of("group", ["a", "a", "b"])))).Message, StringComparison.Ordinal);

    private static double[] Ones(int n) => [.. Enumerable.Repeat(1.0, n)];

    private static double[] Is(string[] values, string value) => [.. values.Select(v => v == value ? 1.0 : 0.0)];
}
