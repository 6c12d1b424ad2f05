using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Trend;
using Xunit;

namespace Meltwise.Statistics.Tests.Trend;

/// <summary>Oracles/statistics/mixed.json: independent REML program with dense matrices, confirmed by lme4; 10 to 12 digits. Asked for: 8.</summary>
public sealed class RandomHeatModelTests
{
    private static readonly JsonElement s_models = Oracle.Read("mixed.json").GetProperty("models");
    private static readonly Digits s_digits = new(8);

    public static TheoryData<string> Models => ["rail", "dyestuff", "suppliers_heats_log", "suppliers_heats_log_no_hrc", "suppliers_heats_raw", "balanced_heats"];

    [Theory]
    [MemberData(nameof(Models))]
    public void Components_information_and_effects_agree(string id)
    {
        JsonElement model = s_models.GetProperty(id);
        RandomHeatModel fit = Fit(id);
        double[] components = [.. model.GetProperty("variance_components").EnumerateObject().Select(p => p.Value.Number())];
        Digits.Agree(components[0], fit.HeatVariance, s_digits, "heat variance");
        Digits.Agree(components[1], fit.ResidualVariance, s_digits, "residual variance");
        JsonElement[] information = [.. model.GetProperty("asymptotic_cov_expected_info").EnumerateArray()];
        Digits.Agree(information[0].Numbers()[0], fit.VarianceOfHeatVariance, s_digits, "variance of the heat variance");
        Digits.Agree(information[1].Numbers()[1], fit.VarianceOfResidualVariance, s_digits, "variance of the residual variance");
        Digits.Agree(information[0].Numbers()[1], fit.CovarianceOfVariances, s_digits, "covariance");
        int j = 0;
        foreach (JsonProperty effect in model.GetProperty("fixed").EnumerateObject())
        {
            Digits.Agree(effect.Value.Number("estimate"), fit.Coefficient(j), s_digits, effect.Name);
            Digits.Agree(effect.Value.Number("se"), fit.StandardError(j), s_digits, $"standard error of {effect.Name}");
            j++;
        }
    }

    // Box and Tiao's second set of dyestuff data: the between-batch estimate is negative and REML sits exactly on 0.
    [Fact]
    public void A_negative_component_is_zero()
    {
        RandomHeatModel fit = Fit("dyestuff2");
        Assert.Equal(0, fit.HeatVariance);
        Digits.Agree(s_models.GetProperty("dyestuff2").GetProperty("variance_components").Number("residual"), fit.ResidualVariance, new(10), "residual variance");
    }

    // The same coupons one by one, or gathered into means and squares: one model.
    [Fact]
    public void Gathered_groups_are_the_coupons()
    {
        double[][] heats = [[3.1, 3.4, 2.9], [3.8, 3.9], [3.3, 3.0, 3.2, 3.6]];
        double[] x = [0.2, 1.1, -0.6];
        List<HeatGroup> single = [], gathered = [];
        for (int h = 0; h < heats.Length; h++)
        {
            double mean = heats[h].Average();
            single.AddRange(heats[h].Select(z => new HeatGroup(h, 1, z, 0, [1, x[h]])));
            gathered.Add(new(h, heats[h].Length, mean, heats[h].Sum(z => (z - mean) * (z - mean)), [1, x[h]]));
        }
        RandomHeatModel a = RandomHeatModel.Fit(single, 3)!, b = RandomHeatModel.Fit(gathered, 3)!;
        Digits.Agree(a.HeatVariance, b.HeatVariance, new(11), "heat variance");
        Digits.Agree(a.Coefficient(1), b.Coefficient(1), new(11), "slope");
    }

    [Fact]
    public void Dependent_columns_give_no_fit() => Assert.Null(RandomHeatModel.Fit([new(0, 2, 1, 0.1, [1, 2]), new(1, 2, 2, 0.1, [1, 2]), new(2, 2, 3, 0.1, [1, 2])], 3));

    private static RandomHeatModel Fit(string id) => id switch
    {
        "rail" => Fit(Table.Published("rail.csv"), "travel", "Rail", (_, _) => [1]),
        "dyestuff" => Fit(Table.Published("dyestuff.csv"), "Yield", "Batch", (_, _) => [1]),
        "dyestuff2" => Fit(Table.Published("dyestuff2.csv"), "Yield", "Batch", (_, _) => [1]),
        "balanced_heats" => Fit(Table.MadeUp("madeup_balanced_heats.csv"), "energy_j", "heat", BySupplier),
        "suppliers_heats_log_no_hrc" => Fit(Table.MadeUp("madeup_suppliers_heats.csv"), "energy_j", "heat", BySupplier, Math.Log),
        "suppliers_heats_log" => Fit(Table.MadeUp("madeup_suppliers_heats.csv"), "energy_j", "heat", BySupplierAndHardness, Math.Log),
        _ => Fit(Table.MadeUp("madeup_suppliers_heats.csv"), "energy_j", "heat", BySupplierAndHardness),
    };

    private static double[] BySupplier(Table t, int i) => [1, t.Is("supplier", "Q")[i]];

    private static double[] BySupplierAndHardness(Table t, int i) => [1, t.Is("supplier", "Q")[i], t.Numbers("hrc")[i] - 60];

    private static RandomHeatModel Fit(Table table, string response, string factor, Func<Table, int, double[]> row, Func<double, double>? scale = null)
    {
        double[] y = table.Numbers(response);
        string[] heat = table.Text(factor), names = [.. heat.Distinct()];
        return RandomHeatModel.Fit([.. y.Select((v, i) => new HeatGroup(Array.IndexOf(names, heat[i]), 1, scale?.Invoke(v) ?? v, 0, row(table, i)))], names.Length)!;
    }
}
