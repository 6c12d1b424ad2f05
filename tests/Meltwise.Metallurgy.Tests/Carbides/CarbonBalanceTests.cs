using Meltwise.Evidence;
using Meltwise.Metallurgy.Carbides;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Carbides;

public sealed class CarbonBalanceTests
{
    // Atomic masses, worked independently to the printed figure.
    [Theory]
    [InlineData("VC", "0.2358")]
    [InlineData("V8C7", "0.2063")]
    [InlineData("V4C3", "0.1768")]
    [InlineData("NbC", "0.1293")]
    [InlineData("Cr7C3", "0.0990")]
    [InlineData("Cr23C6", "0.0603")]
    [InlineData("Fe3W3C", "0.0218")]
    [InlineData("Fe3Mo3C", "0.0417")]
    public void Carbon_tied_by_one_percent_of_metal(string formula, string printed) =>
        new Published(printed).Agrees(CarbonBalance.Ties.Single(t => t.Formula == formula).CarbonPerMetal, formula);

    [Fact]
    public void Nitrogen_counts_as_carbon_by_the_ratio_of_the_masses() =>
        new Published("0.8575").Agrees(CarbonBalance.CarbonPerNitrogen, "12.011 / 14.007");

    [Fact] // Steven, Nehrenberg and Philip 1964 on a regular-carbon M2, by hand: 0.2475 + 0.315 + 0.20196 + 0.38 = 1.14446.
    public void High_speed_balance_by_hand_is_short_of_carbon()
    {
        CarbonBalanceResult balance = CarbonBalance.Of(new() { C = 0.85, Cr = 4.125, Mo = 5, W = 6.12, V = 1.9 });
        Digits.Agree(1.14446, balance.HighSpeedCarbon, new(12), "C_s");
        Assert.InRange(balance.AboveHighSpeedBalance, -0.4, -0.1); // tough grades, from memory
    }

    [Fact]
    public void More_vanadium_than_carbon_can_serve_is_said()
    {
        CarbonBalanceResult balance = CarbonBalance.Of(new() { C = 0.3, V = 3 });
        Assert.True(balance.LeftForTheRest < 0);
        Assert.Contains(balance.Notes, n => n.Contains("could tie 0.62", StringComparison.Ordinal));
    }
}
