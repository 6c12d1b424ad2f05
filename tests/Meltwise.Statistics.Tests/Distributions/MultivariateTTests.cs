using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Distributions;
using Xunit;

namespace Meltwise.Statistics.Tests.Distributions;

public sealed class MultivariateTTests
{
    // Oracles/statistics/multivariate_t.json. The oracle's error bound is about 2.6 of its standard errors; four of ours are added.
    [Fact]
    public void Tails_agree_with_an_independent_program()
    {
        foreach (JsonElement row in Oracle.Read("multivariate_t.json").GetProperty("cases").EnumerateArray())
        {
            double[,] r = Matrix(row.GetProperty("correlation"));
            ComputedProbability two = MultivariateT.TwoSidedTail(row.Number("t"), r, row.Number("df"));
            ComputedProbability one = MultivariateT.OneSidedTail(row.Number("t"), r, row.Number("df"));
            Assert.InRange(two.Value - row.Number("twoSided"), -Allowed(row, "twoSidedError", two), Allowed(row, "twoSidedError", two));
            Assert.InRange(one.Value - row.Number("oneSided"), -Allowed(row, "oneSidedError", one), Allowed(row, "oneSidedError", one));
        }
    }

    private static double Allowed(JsonElement row, string error, ComputedProbability ours) => 1.5 * row.Number(error) + 4 * ours.StandardError + 1e-8;

    // Oracles/statistics/dunnett.json: double quadrature in 40-digit arithmetic; tails down to 1e-6.
    [Fact]
    public void Tails_against_a_control_agree_with_quadrature_in_multiple_precision()
    {
        foreach (JsonElement row in Oracle.Read("dunnett.json").GetProperty("cases").EnumerateArray())
        {
            double[] loading = row.Numbers("lam");
            double[,] r = new double[loading.Length, loading.Length];
            for (int i = 0; i < loading.Length; i++)
                for (int j = 0; j < loading.Length; j++) r[i, j] = i == j ? 1 : loading[i] * loading[j];
            Digits.Agree(row.Number("twoSided"), MultivariateT.TwoSidedTail(row.Number("t"), r, row.Number("df")).Value, new(10), $"two-sided, {row}");
            Digits.Agree(row.Number("oneSided"), MultivariateT.OneSidedTail(row.Number("t"), r, row.Number("df")).Value, new(10), $"one-sided, {row}");
        }
    }

    [Fact]
    public void Groups_against_a_control_need_no_simulation()
    {
        double[,] half = { { 1, 0.5, 0.5 }, { 0.5, 1, 0.5 }, { 0.5, 0.5, 1 } };
        Assert.Equal(0, MultivariateT.TwoSidedTail(2.5, half, 20).StandardError);
    }

    // Dunnett (1964), table of two-sided 5 % points for three groups against a control: 2.54 at 20 degrees of freedom (from memory).
    [Fact]
    public void Critical_value_of_three_groups_against_a_control()
    {
        double[,] half = { { 1, 0.5, 0.5 }, { 0.5, 1, 0.5 }, { 0.5, 0.5, 1 } };
        new Evidence.Published("2.54").Agrees(MultivariateT.TwoSidedCritical(0.05, half, 20), "Dunnett, k = 3");
    }

    // All pairs of three equal groups: the same question as the studentized range, by two separate computations.
    [Fact]
    public void All_pairs_agree_with_the_studentized_range()
    {
        double[,] pairs = { { 1, 0.5, -0.5 }, { 0.5, 1, 0.5 }, { -0.5, 0.5, 1 } };
        ComputedProbability p = MultivariateT.TwoSidedTail(2.6, pairs, 12);
        double range = StudentizedRange.UpperTail(2.6 * Math.Sqrt(2), 3, 12);
        Assert.InRange(p.Value - range, -4 * p.StandardError - 1e-6, 4 * p.StandardError + 1e-6);
        Assert.InRange(p.StandardError, 0, 5e-4);
    }

    private static double[,] Matrix(JsonElement rows)
    {
        double[][] r = [.. rows.EnumerateArray().Select(e => e.Numbers())];
        double[,] m = new double[r.Length, r.Length];
        for (int i = 0; i < r.Length; i++)
            for (int j = 0; j < r.Length; j++) m[i, j] = r[i][j];
        return m;
    }
}
