using Meltwise.Evidence;
using Meltwise.Metallurgy.Oxides;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class OxygenAssessmentTests
{
    [Fact] // The steps one by one: 31.83 µm √area is a sphere of 35.92 µm; 40 x 10 x 7 mm at 0.9: 1400 (1 - 0.9 + 0.9 ln 0.9) mm³.
    public void Joins_the_steps()
    {
        OxygenAssessmentResult result = OxygenAssessment.Of(50, 12);
        Assert.Equal(35.92e-6, result.CriticalDiameterM, 0.01e-6);
        Digits.Agree(1400e-9 * (0.1 + 0.9 * Math.Log(0.9)), result.StressedVolumeM3, new(10), "stressed volume");
        OxidePopulation population = new(result.Fraction.VolumePercent / 100, 1e-6, 2);
        Digits.Agree(population.ExpectedNumber(result.CriticalDiameterM, result.StressedVolumeM3), result.Chances.ExpectedFlaws, new(12), "expected flaws");
        Assert.NotEmpty(result.Sources);
    }

    // Handbook, from memory: the same ppm is a very different risk with coarser oxides.
    [Fact]
    public void Coarser_oxides_at_the_same_ppm_are_a_larger_risk_and_half_the_ppm_half_the_number()
    {
        double Flaws(double ppm, double spread) => OxygenAssessment.Of(ppm, 12, new() { GeometricSd = spread }).Chances.ExpectedFlaws;
        Assert.True(Flaws(50, 2.5) > 10 * Flaws(50, 2));
        Digits.Agree(0.5, Flaws(25, 2.5) / Flaws(50, 2.5), new(10), "half the oxygen");
    }
}
