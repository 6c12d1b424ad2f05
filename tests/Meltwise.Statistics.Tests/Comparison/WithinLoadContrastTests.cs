using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Comparison;
using Xunit;

namespace Meltwise.Statistics.Tests.Comparison;

/// <summary>Oracles/statistics/two_sample.json and paired.json: R 4.2.2, closed forms, 14 digits. Asked for: 12, because differences of means cancel up to 2 digits.</summary>
public sealed class WithinLoadContrastTests
{
    private static readonly JsonElement s_sets = Oracle.Read("two_sample.json").GetProperty("sets");
    private static readonly Digits s_digits = new(11);

    public static TheoryData<string> Sets => [.. s_sets.EnumerateObject().Select(s => s.Name)];

    [Theory]
    [MemberData(nameof(Sets))]
    public void One_load_is_Welch(string name)
    {
        JsonElement set = s_sets.GetProperty(name);
        Compare(set.GetProperty("summary"), set.Numbers("x"), set.Numbers("y"));
        if (set.TryGetProperty("log_ratio", out JsonElement logs))
            Compare(logs, [.. set.Numbers("x").Select(v => Math.Log(v))], [.. set.Numbers("y").Select(v => Math.Log(v))]);
    }

    private static void Compare(JsonElement expected, double[] x, double[] y)
    {
        JsonElement welch = expected.GetProperty("welch"), tost = expected.GetProperty("tost_welch");
        ContrastEstimate own = Fit(x, y).Own;
        Digits.Agree(expected.Number("difference"), own.Estimate, s_digits, "difference");
        Digits.Agree(welch.Number("se"), own.StandardError, s_digits, "standard error");
        Digits.Agree(welch.Number("df"), own.DegreesOfFreedom, s_digits, "degrees of freedom");
        Digits.Agree(welch.Number("p_two_sided"), own.PDifference, s_digits, "two-sided p");
        double[] wide = welch.Numbers("ci95"), narrow = welch.Numbers("ci90");
        double scale = wide[1] - wide[0];
        Assert.Equal(wide[0], own.Interval(0.95).Lower, 1e-11 * scale);
        Assert.Equal(wide[1], own.Interval(0.95).Upper, 1e-11 * scale);
        Assert.Equal(narrow[0], own.Interval(0.90).Lower, 1e-11 * scale);
        Assert.Equal(narrow[1], own.Interval(0.90).Upper, 1e-11 * scale);
        Digits.Agree(tost.Number("p"), own.PEquivalence(tost.Number("margin_low"), tost.Number("margin_high")), s_digits, "two one-sided tests");
        JsonElement pooled = expected.GetProperty("pooled");
        Digits.Agree(pooled.Number("se"), Fit(x, y).Pooled.StandardError, s_digits, "pooled standard error");
        Digits.Agree(pooled.Number("p_two_sided"), Fit(x, y).Pooled.PDifference, s_digits, "pooled p");
    }

    // One coupon of each lot in every load: the residual of lot + load is that of the paired test.
    [Fact]
    public void One_coupon_a_lot_and_load_is_the_paired_test()
    {
        double[] x = [10.2, 11.9, 9.1, 12.4, 10.8], y = [9.8, 11.1, 9.3, 11.2, 10.1];
        LotContrast contrast = WithinLoadContrast.Fit([.. x, .. y], [.. x.Select(_ => true), .. y.Select(_ => false)], [0, 1, 2, 3, 4, 0, 1, 2, 3, 4], 5)!;
        double[] d = [.. x.Zip(y, (a, b) => a - b)];
        double mean = d.Average(), se = Math.Sqrt(d.Sum(v => (v - mean) * (v - mean)) / 4 / 5);
        Assert.Equal(LotContrastKind.CommonResidual, contrast.Kind);
        Digits.Agree(mean, contrast.Own.Estimate, new(13), "mean difference");
        Digits.Agree(se, contrast.Own.StandardError, new(12), "standard error");
        Assert.Equal(4, contrast.Own.DegreesOfFreedom, 1e-12);
    }

    // Worked by hand: loads A (2 against 1), B (1 against 2); weights 2/3 and 2/3 of a total 4/3, so one half each; load C holds one lot and does not enter.
    [Fact]
    public void Loads_are_weighted_by_their_information_and_single_lot_loads_do_not_enter()
    {
        LotContrast contrast = WithinLoadContrast.Fit([5, 7, 9, 100, 4, 3, 5], [true, true, true, true, false, false, false], [0, 0, 1, 2, 0, 1, 1], 3)!;
        Assert.Equal([0.5, 0.5, 0], contrast.LoadWeights);
        Assert.Equal(0.5 * (6 - 4) + 0.5 * (9 - 4), contrast.Estimate, 1e-14);
        Assert.Equal(0, contrast.Coefficients[3]);
        Assert.Equal(contrast.Estimate, contrast.Apply([5, 7, 9, 100, 4, 3, 5]), 1e-14);
    }

    [Fact]
    public void No_shared_load_is_no_contrast() => Assert.Null(WithinLoadContrast.Fit([1, 2, 3, 4], [true, true, false, false], [0, 0, 1, 1], 2));

    [Fact]
    public void Heats_weigh_equally_whatever_their_number_of_coupons()
    {
        LotContrast contrast = EqualHeatsContrast.Fit([1, 3, 10, 12, 14, 5, 7], [true, true, true, true, true, false, false], [0, 0, 1, 1, 1, 2, 2], ["M1", "M2", "K1"]);
        Assert.Equal((2 + 12) / 2.0 - 6, contrast.Estimate, 1e-14);
        Assert.Equal(2 / (4.0 * 2) + 4 / (4.0 * 3) + 2 / 2.0, contrast.Own.StandardError * contrast.Own.StandardError, 1e-13);
    }

    private static LotContrast Fit(double[] x, double[] y) =>
        WithinLoadContrast.Fit([.. x, .. y], [.. x.Select(_ => true), .. y.Select(_ => false)], new int[x.Length + y.Length], 1)!;
}
