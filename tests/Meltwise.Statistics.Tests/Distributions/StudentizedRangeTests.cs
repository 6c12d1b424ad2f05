using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Distributions;
using Xunit;

namespace Meltwise.Statistics.Tests.Distributions;

public sealed class StudentizedRangeTests
{
    // Oracles/statistics/studentized_range.json, double quadrature in multiple precision; the far tails are there to fail a 1 - cdf.
    [Fact]
    public void Upper_tail_agrees_with_quadrature_in_multiple_precision()
    {
        foreach (JsonElement row in Oracle.Read("studentized_range.json").GetProperty("cases").EnumerateArray())
            Digits.Agree(row.Number("upper"), StudentizedRange.UpperTail(row.Number("q"), (int)row.Number("groups"), row.Number("df")), new(11), row.ToString());
    }

    // Pairs of two groups: Q = √2 |t|, so the tail is the two-sided t tail whatever ν is.
    [Theory]
    [InlineData(1)]
    [InlineData(6.5)]
    [InlineData(200)]
    public void Two_groups_are_a_t_test(double nu) =>
        Digits.Agree(StudentT.TwoSided(3, nu), StudentizedRange.UpperTail(3 * Math.Sqrt(2), 2, nu), new(10), "k = 2");

    // Table of the upper 5 % points, Montgomery, Design and Analysis of Experiments, table VIII: q(3, 10) = 3.88, q(6, 20) = 4.45 (from memory).
    [Theory]
    [InlineData(3, 10, "3.88")]
    [InlineData(6, 20, "4.45")]
    public void Upper_five_percent_points(int groups, double nu, string printed) =>
        new Published(printed).Agrees(StudentizedRange.Quantile(0.95, groups, nu), $"q({groups}, {nu})");
}
