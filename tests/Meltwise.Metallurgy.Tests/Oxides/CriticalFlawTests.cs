using Meltwise.Evidence;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class CriticalFlawTests
{
    // Murakami's relation worked independently, as printed: √area in µm, interior and surface.
    [Theory]
    [InlineData(12, 3000, "20", "12")]
    [InlineData(12, 4000, "11.5", "6.8")]
    [InlineData(12, 5000, "7.3", "4.3")]
    [InlineData(15, 3000, "32", "19")]
    [InlineData(15, 5000, "11.5", "6.8")]
    [InlineData(20, 3000, "56.588", "33.484")] // 16/9 of the sizes at 4000 MPa
    [InlineData(20, 4000, "31.830988618", "18.834904508")]
    [InlineData(25, 4000, "50", "29")]
    public void Critical_sizes(double toughness, double stress, string interior, string surface)
    {
        new Published(interior).Agrees(CriticalFlaw.SqrtAreaM(toughness * 1e6, stress * 1e6, FlawPlace.Interior) * 1e6, "interior");
        new Published(surface).Agrees(CriticalFlaw.SqrtAreaM(toughness * 1e6, stress * 1e6, FlawPlace.Surface) * 1e6, "surface");
    }

    [Fact]
    public void A_flaw_of_the_critical_size_has_the_toughness_as_its_stress_intensity()
    {
        double size = CriticalFlaw.SqrtAreaM(18e6, 3500e6, FlawPlace.Surface);
        Digits.Agree(18e6, CriticalFlaw.StressIntensityPaSqrtM(size, 3500e6, FlawPlace.Surface), new(13), "K");
        Digits.Agree(size * size, Math.PI / 4 * Math.Pow(CriticalFlaw.SphereDiameterM(size), 2), new(13), "area of the sphere's section");
    }

    // Handbook: with 20 MPa√m a particle of 2 to 5 µm (at the surface, √area) would need about 8 to 16 GPa: far outside what steel bears, so the range refuses it.
    [Fact]
    public void Single_carbides_of_powder_steel_cannot_start_fracture()
    {
        Assert.True(CriticalFlaw.StressIntensityPaSqrtM(5e-6, 6000e6, FlawPlace.Surface) < 20e6);
        Assert.Throws<OutsideModelRangeException>(() => CriticalFlaw.SqrtAreaM(20e6, 10e9, FlawPlace.Surface));
    }
}
