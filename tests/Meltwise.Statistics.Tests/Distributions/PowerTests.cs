using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Equivalence;
using Xunit;

namespace Meltwise.Statistics.Tests.Distributions;

/// <summary>Oracles/statistics/power.json and power_nested.json: exact powers in multiple precision, anchors of Cohen (1988).</summary>
public sealed class PowerTests
{
    private static readonly JsonElement s_power = Oracle.Read("power.json");

    [Fact]
    public void Two_sample_t_tests()
    {
        foreach (JsonElement r in s_power.GetProperty("t_test_two_sample").EnumerateArray())
        {
            double n1 = r.Number("n1"), n2 = r.Number("n2");
            Digits.Agree(r.Number("power"), TPower(r.Number("effect_size_d") / Math.Sqrt(1 / n1 + 1 / n2), n1 + n2 - 2, r), new(9), r.ToString());
        }
    }

    [Fact]
    public void One_sample_and_paired_t_tests()
    {
        foreach (JsonElement r in s_power.GetProperty("one_sample_or_paired").EnumerateArray())
            Digits.Agree(r.Number("power"), TPower(r.Number("effect_size_d") * Math.Sqrt(r.Number("n")), r.Number("n") - 1, r), new(9), r.ToString());
    }

    // Cohen (1988), table 2.4.1: 64 and 26 a group for d = 0.5 and 0.8 (from memory); all numbers of the oracle by the noncentral t.
    [Fact]
    public void Numbers_for_a_wanted_power()
    {
        foreach (JsonElement r in s_power.GetProperty("t_test_sample_size").EnumerateArray())
        {
            double Power(double n) => TPower(r.Number("effect_size_d") * Math.Sqrt(n / 2), 2 * n - 2, r);
            int? smallest = EquivalencePower.SmallestNumber(n => Power(n), r.Number("power"), 2000);
            Assert.Equal((int)r.Number("n_per_group"), smallest);
            Digits.Agree(r.Number("power_at_n"), Power(smallest!.Value), new(9), r.ToString());
            Digits.Agree(r.Number("power_at_n_minus_1"), Power(smallest.Value - 1), new(9), r.ToString());
        }
        JsonElement anchor = s_power.GetProperty("published_anchors")[1].GetProperty("computed_exact_power");
        foreach (int n in (int[])[10, 11])
            Digits.Agree(anchor.Number($"n={n}"), NoncentralT.UpperTail(StudentT.Quantile(0.95, n - 1), n - 1, Math.Sqrt(n)), new(10), $"one sample of {n}");
    }

    private static double TPower(double delta, double nu, JsonElement r)
    {
        double critical = StudentT.Quantile(1 - r.Number("alpha") / r.Number("sides"), nu);
        return NoncentralT.UpperTail(critical, nu, delta) + (r.Number("sides") == 2 ? NoncentralT.Cdf(-critical, nu, delta) : 0);
    }

    [Fact]
    public void F_tests()
    {
        foreach (JsonElement r in s_power.GetProperty("f_test_power").EnumerateArray())
        {
            double k = r.Number("groups"), n = r.Number("n_per_group"), f = r.Number("effect_size_f"), nu = k * (n - 1);
            Digits.Agree(r.Number("power"), NoncentralF.UpperTail(FisherF.Quantile(1 - r.Number("alpha"), k - 1, nu), k - 1, nu, f * f * k * n), new(8), r.ToString());
        }
    }

    [Fact]
    public void Two_one_sided_tests()
    {
        foreach (JsonElement r in s_power.GetProperty("tost_two_sample_equal_n").EnumerateArray())
        {
            double n = r.Number("n_per_group"), margin = r.Number("margin_in_sd");
            Assert.Equal(r.Number("power"), EquivalencePower.Of(Math.Sqrt(2 / n), 2 * n - 2, r.Number("true_difference_in_sd"), -margin, margin, r.Number("alpha")), 1e-9);
        }
    }

    // Heat as the random unit: V = 2(τ² + σ²/n)/h on 2h - 2 degrees of freedom.
    [Fact]
    public void Sources_compared_by_their_heats()
    {
        foreach (JsonElement r in Oracle.Read("power_nested.json").GetProperty("rows").EnumerateArray())
        {
            double h = r.Number("heats_per_supplier"), n = r.Number("coupons_per_heat"), tau = r.Number("sd_heat"), sigma = r.Number("sd_coupon");
            double error = Math.Sqrt(2 * (tau * tau + sigma * sigma / n) / h), nu = 2 * h - 2, critical = StudentT.Quantile(0.975, nu), delta = r.Number("true_difference") / error;
            Digits.Agree(r.Number("se_difference"), error, new(12), "standard error");
            Digits.Agree(r.Number("power_two_sided_0.05"), NoncentralT.UpperTail(critical, nu, delta) + NoncentralT.Cdf(-critical, nu, delta), new(9), r.ToString());
            Assert.Equal(r.Number("tost_power_at_0"), EquivalencePower.Of(error, nu, 0, -r.Number("equivalence_margin"), r.Number("equivalence_margin"), 0.05), 1e-9);
        }
    }
}
