using Meltwise.Evidence;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class StressedVolumeTests
{
    [Theory] // Independent: counting points of a fine grid of span and depth, stress (1 - 2|x|/L) (2y/h) on the tension side.
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(0.95)]
    public void Volume_equals_counting_points(double share)
    {
        const int n = 2000;
        int inside = 0;
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                if ((i + 0.5) / n * ((j + 0.5) / n) >= share) inside++;
        double volume = 0.04 * 0.01 * 0.007;
        Assert.Equal(volume / 2 * inside / ((double)n * n), StressedVolume.AboveShareM3(0.04, 0.01, 0.007, share), volume * 2e-4);
    }

    [Fact] // Independent: integral of (stress/highest)^m over the tension half, on a grid.
    public void Effective_volume_equals_the_integral_of_the_stress_to_the_power_m()
    {
        const int n = 4000;
        double one = 0;
        for (int i = 0; i < n; i++) one += Math.Pow((i + 0.5) / n, 12) / n;
        Digits.Agree(2.8e-6 / 2 * one * one, StressedVolume.EffectiveM3(0.04, 0.01, 0.007, 12), new(5), "effective volume");
    }

    // Handbook: area × 2.8 lowers strength by 5 % (m 20) to 10 % (m 10).
    [Theory]
    [InlineData(20, 0.95)]
    [InlineData(10, 0.90)]
    public void Size_effect(double modulus, double ratio) => Assert.Equal(ratio, StressedVolume.StrengthRatio(2.8, modulus), 0.005);

    [Fact]
    public void Nonsense_is_refused()
    {
        Assert.Throws<OutsideModelRangeException>(() => StressedVolume.AboveShareM3(0.04, 0, 0.007, 0.9));
        Assert.Throws<OutsideModelRangeException>(() => StressedVolume.AboveShareM3(0.04, 0.01, 0.007, 1.2));
        Assert.Throws<OutsideModelRangeException>(() => StressedVolume.EffectiveM3(0.04, 0.01, 0.007, 0.2));
    }
}
