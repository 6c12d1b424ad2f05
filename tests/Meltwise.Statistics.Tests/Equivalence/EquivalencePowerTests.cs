using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Equivalence;
using Xunit;

namespace Meltwise.Statistics.Tests.Equivalence;

/// <summary>Oracles/statistics/power.json: exact bivariate probability by integration over s, checked in mpmath; 12 digits.</summary>
public sealed class EquivalencePowerTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("power.json");

    [Fact]
    public void Power_agrees()
    {
        foreach (JsonElement row in s_oracle.GetProperty("tost_two_sample_equal_n").EnumerateArray())
        {
            double n = row.Number("n_per_group"), margin = row.Number("margin_in_sd");
            double power = EquivalencePower.Of(Math.Sqrt(2 / n), 2 * n - 2, row.Number("true_difference_in_sd"), -margin, margin, row.Number("alpha"));
            Assert.True(Math.Abs(row.Number("power") - power) < 2e-10, $"n {n}, margin {margin}: {row.Number("power")} expected, {power} computed");
        }
    }

    [Fact]
    public void Power_agrees_with_extended_precision()
    {
        foreach (JsonElement row in s_oracle.GetProperty("tost_mpmath_check").EnumerateArray())
        {
            double n = row.Number("n_per_group"), margin = row.Number("margin_in_sd");
            Assert.Equal(row.Number("mpmath"), EquivalencePower.Of(Math.Sqrt(2 / n), 2 * n - 2, row.Number("true_difference_in_sd"), -margin, margin, 0.05), 1e-11);
        }
    }

    [Fact]
    public void Sample_sizes_agree()
    {
        foreach (JsonElement row in s_oracle.GetProperty("tost_sample_size").EnumerateArray())
        {
            if (row.Text("design") != "two independent groups, log scale") continue;
            double cv = row.Number("cv"), sigma = Math.Sqrt(Math.Log(1 + cv * cv)), truth = Math.Log(row.Number("true_ratio"));
            double[] limits = row.Numbers("limits");
            int? n = EquivalencePower.SmallestNumber(
                k => EquivalencePower.Of(sigma * Math.Sqrt(2.0 / k), 2 * k - 2, truth, Math.Log(limits[0]), Math.Log(limits[1]), row.Number("alpha")), row.Number("target_power"), 2000);
            Assert.Equal((int)row.Number("n_per_group"), n);
        }
    }

    // Handbook table check_values: six coupons a lot, limits 0.80 to 1.25, true ratio 1, four printed decimals.
    [Theory]
    [InlineData(0.10, "0.9489")]
    [InlineData(0.15, "0.5593")]
    [InlineData(0.20, "0.2034")]
    [InlineData(0.25, "0.0597")]
    public void Six_coupons_a_lot(double cv, string printed)
    {
        double sigma = Math.Sqrt(Math.Log(1 + cv * cv));
        new Published(printed).Agrees(EquivalencePower.Of(sigma * Math.Sqrt(2 / 6.0), 10, 0, Math.Log(0.8), Math.Log(1.25), 0.05), $"power at CV {cv}");
    }
}
