using Meltwise.Evidence;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class OxidePopulationTests
{
    // Handbook: 50 ppm as 1 µm spheres about 5e5 in a mm³, as 10 µm about 550 (worked with MnSiO3).
    [Theory]
    [InlineData(1e-6, 5e5, 0.5e5)]
    [InlineData(1e-5, 550, 5)]
    public void One_size(double diameterM, double perMm3, double tolerance)
    {
        double fraction = OxideFraction.Of(50, OxideFraction.Named("MnSiO3")).VolumePercent / 100;
        Assert.Equal(perMm3, new OxidePopulation(fraction, diameterM, 1).NumberPerM3 * 1e-9, tolerance);
    }

    [Fact] // Independent: numerical integration of the volume of all particles gives the fraction back.
    public void Volumes_add_up_to_the_fraction()
    {
        OxidePopulation population = new(2e-4, 1.5e-6, 1.8);
        double volume = 0, previous = population.NumberAbovePerM3(1e-9);
        for (double d = 1e-8; d < 2e-4; d *= 1.001)
        {
            double above = population.NumberAbovePerM3(d * 1.001);
            volume += (previous - above) * Math.PI / 6 * Math.Pow(d * 1.0005, 3);
            previous = above;
        }
        Assert.Equal(1, volume / 2e-4, 0.002);
    }

    [Fact]
    public void Half_lie_above_the_median_and_fewer_above_larger_sizes()
    {
        OxidePopulation population = new(2e-4, 2e-6, 2);
        Digits.Agree(population.NumberPerM3 / 2, population.NumberAbovePerM3(2e-6), new(12), "median");
        Assert.True(population.NumberAbovePerM3(2e-5) < population.NumberAbovePerM3(1e-5));
        Digits.Agree(3e-9 * population.NumberAbovePerM3(1e-5), population.ExpectedNumber(1e-5, 3e-9), new(12), "expected number");
    }

    [Fact]
    public void Nonsense_is_refused()
    {
        Assert.Throws<OutsideModelRangeException>(() => new OxidePopulation(0.2, 1e-6, 2));
        Assert.Throws<OutsideModelRangeException>(() => new OxidePopulation(1e-4, 1, 2));
        Assert.Throws<OutsideModelRangeException>(() => new OxidePopulation(1e-4, 1e-6, 0.9));
    }
}
