using Meltwise.Evidence;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class OxygenRankTests
{
    // One-sided tolerance factors as printed in published tables (NIST/SEMATECH e-Handbook and ISO 16269-6 kind): n, share, confidence.
    [Theory]
    [InlineData(5, 0.90, 0.95, "3.407")]
    [InlineData(5, 0.95, 0.95, "4.203")]
    [InlineData(10, 0.90, 0.95, "2.355")]
    [InlineData(10, 0.95, 0.95, "2.911")]
    [InlineData(10, 0.99, 0.95, "3.981")]
    [InlineData(12, 0.95, 0.95, "2.736")]
    public void Published_factors(int heats, double share, double confidence, string printed) =>
        new Published(printed).Agrees(OxygenRank.Factor(heats, share, confidence), $"k({heats})");

    [Fact] // By hand on ln(ppm): mean of ln of the history ± 2.911 s.
    public void Limits_by_hand()
    {
        double[] history = [42, 55, 38, 61, 47, 52, 44, 58, 49, 40];
        double[] logs = [.. history.Select(p => Math.Log(p))];
        double mean = logs.Average(), s = Math.Sqrt(logs.Sum(l => (l - mean) * (l - mean)) / 9);
        OxygenRankResult rank = OxygenRank.Of(45, history);
        Assert.Equal(Math.Exp(mean + 2.911 * s), rank.UpperPpm!.Value, 0.05);
        Assert.Equal(Math.Exp(mean - 2.911 * s), rank.LowerPpm!.Value, 0.05);
        Assert.Equal(4, rank.HeatsWithLess);
        Assert.Equal(OxygenStanding.Usual, rank.Standing);
        Assert.Equal(OxygenStanding.High, OxygenRank.Of(150, history).Standing);
        Assert.Equal(OxygenStanding.Low, OxygenRank.Of(15, history).Standing);
    }

    [Fact]
    public void Few_heats_give_a_rank_and_no_limits()
    {
        OxygenRankResult rank = OxygenRank.Of(37, [58, 44]);
        Assert.Null(rank.UpperPpm);
        Assert.Equal(OxygenStanding.TooFewHeats, rank.Standing);
        Assert.StartsWith("0 of 2 heats", rank.Notes[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Nonsense_is_refused() => Assert.Throws<OutsideModelRangeException>(() => OxygenRank.Of(0, [58, 44]));
}
