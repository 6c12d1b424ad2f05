using System.Text.Json;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class OxideFractionTests
{
    [Fact] // Oracles/property-chain: volume percent for each 10 ppm, four digits.
    public void Every_oxide_agrees_with_the_independent_program()
    {
        JsonElement[] rows = [.. WorkedValues.Block("oxides").EnumerateArray()];
        Assert.Equal(rows.Length, OxideFraction.All.Count);
        foreach (JsonElement row in rows)
            Assert.Equal(row.GetProperty("volumePercentPer10ppmO").GetDouble(), OxideFraction.Of(10, OxideFraction.Named(row.GetProperty("oxide").GetString()!)).VolumePercent, 6e-7);
    }

    [Fact] // By hand: 0.01 / 0.4707 x 7.75 / 3.97.
    public void A_hundred_ppm_as_alumina() =>
        Assert.Equal(0.0415, OxideFraction.Of(100, OxideFraction.Named("Al2O3")).VolumePercent, 0.00005);

    // Handbook rule [computed from densities]: 0.05 ± 0.01 vol% for 100 ppm, over the oxides usual in deoxidised steel.
    [Theory]
    [InlineData("Al2O3")]
    [InlineData("MgAl2O4")]
    [InlineData("MnSiO3")]
    [InlineData("Cr2O3")]
    public void Rule_of_thumb(string oxide) => Assert.InRange(OxideFraction.Of(100, OxideFraction.Named(oxide)).VolumePercent, 0.04, 0.06);

    // From the definitions: oxygen mass fractions against the atomic masses 15.999, 26.982, 54.938, 28.085, 51.996, 24.305.
    [Theory]
    [InlineData("Al2O3", 3 * 15.999 / (3 * 15.999 + 2 * 26.982))]
    [InlineData("MnO", 15.999 / (15.999 + 54.938))]
    [InlineData("MnSiO3", 3 * 15.999 / (3 * 15.999 + 54.938 + 28.085))]
    [InlineData("MgAl2O4", 4 * 15.999 / (4 * 15.999 + 24.305 + 2 * 26.982))]
    [InlineData("Cr2O3", 3 * 15.999 / (3 * 15.999 + 2 * 51.996))]
    public void Oxygen_mass_fractions(string oxide, double fraction) => Assert.Equal(fraction, OxideFraction.Named(oxide).OxygenMassFraction, 2e-5);

    [Fact]
    public void Above_the_scope_of_the_method_it_says_so_and_nonsense_is_refused()
    {
        Assert.Contains(OxideFraction.Of(400, OxideFraction.Named("Al2O3")).Notes, n => n.Contains("E1019", StringComparison.Ordinal));
        Assert.Throws<OutsideModelRangeException>(() => OxideFraction.Of(-1, OxideFraction.Named("Al2O3")));
        Assert.Contains("It holds", Assert.Throws<ArgumentException>(() => OxideFraction.Named("ZrO2")).Message, StringComparison.Ordinal);
    }
}
