using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Comparison;
using Xunit;

namespace Meltwise.Statistics.Tests.Comparison;

/// <summary>Oracles/statistics/two_sample.json, closed forms in R, 14 digits.</summary>
public sealed class FiellerRatioTests
{
    [Theory]
    [InlineData("pooled", true)]
    [InlineData("welch", false)]
    public void Interval_of_a_ratio_of_means_agrees(string key, bool pooled)
    {
        JsonElement set = Oracle.Read("two_sample.json").GetProperty("sets").GetProperty("two_heats"), e = set.GetProperty("ratio_of_means").GetProperty(key);
        FiellerResult r = FiellerRatio.Of(set.Numbers("x"), set.Numbers("y"), pooled: pooled);
        Digits.Agree(e.Number("df"), r.DegreesOfFreedom, new(11), "degrees of freedom");
        Digits.Agree(e.Number("g"), r.G, new(10), "g");
        Digits.Agree(e.Numbers("ci")[0], r.Lower, new(10), "lower");
        Digits.Agree(e.Numbers("ci")[1], r.Upper, new(10), "upper");
    }

    [Fact]
    public void A_denominator_near_zero_leaves_the_ratio_open() =>
        Assert.Equal(double.PositiveInfinity, FiellerRatio.Of([1, 2, 3], [-1, 0.1, 1.2]).Upper);
}
