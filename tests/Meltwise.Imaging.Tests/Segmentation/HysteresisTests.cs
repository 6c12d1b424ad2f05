using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Eight bright cores with a faint rim and eight faint discs of the rim's level, drawn: hysteresis follows a particle to its rim and leaves the faint discs out.</summary>
public sealed class HysteresisTests
{
    private const double Core = 6, Rim = 12;
    private static readonly SegmentationSettings s_settings = new() { Polarity = Polarity.Bright, Flatten = false, SmoothingPx = 0, Rule = ThresholdRule.Fixed, Level = 150, Split = false };

    /// <summary>Edges are drawn to a quarter of a pixel; blur corrections may move a diameter by another quarter.</summary>
    [Theory]
    [InlineData(150, 1, 8, 2 * Core)]
    [InlineData(150, 0.3, 8, 2 * Rim)]
    [InlineData(115, 1, 16, 2 * Rim)]
    public void Rims_belong_to_cores_and_not_to_themselves(double level, double share, int count, double diameter)
    {
        SegmentedPicture found = Picture().Found(s_settings with { Level = level, HysteresisShare = share });
        Assert.Equal(count, found.Particles.Count);
        Assert.All(found.Particles, p => Assert.Equal(diameter, p.EquivalentDiameter, 0.5));
        foreach (Particle p in found.Particles.Where(_ => count == 8)) Assert.True(Strong(p.X, p.Y), $"A faint disc at {p.X:F0}, {p.Y:F0} was taken for a particle.");
    }

    private static bool Strong(double x, double y) => ((int)(x / 60) + (int)(y / 60)) % 2 == 0;

    private static DrawnShapes Picture()
    {
        DrawnShapes drawn = new(240, _ => 100);
        for (int k = 0; k < 16; k++)
        {
            (double x, double y) = (k % 4 * 60 + 30, k / 4 * 60 + 30);
            drawn.Disc(x, y, Rim, 30);
            if (Strong(x, y)) drawn.Disc(x, y, Core, 70);
        }
        return drawn;
    }
}
