using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Discs on a matrix that runs from dark to brighter than the dark side's discs: no one level finds them, the local threshold does.</summary>
public sealed class LocalThresholdTests
{
    private const double Radius = 8;

    private static readonly SegmentationSettings s_unflattened = new() { Flatten = false, Polarity = Polarity.Bright, SmoothingPx = 0 };

    [Fact]
    public void Discs_on_a_ramp_are_found_where_they_are()
    {
        DrawnShapes drawn = new(480, x => 60 + 140.0 * x / 480);
        for (int k = 0; k < 144; k++) drawn.Disc(X(k), Y(k), Radius, 50);
        SegmentedPicture global = drawn.Found(s_unflattened), local = drawn.Found(s_unflattened with { Rule = ThresholdRule.Local });
        Assert.True(Math.Abs(Fraction(global) - drawn.Share) > 0.1, "One level should fail here, or the picture proves nothing.");
        Assert.Equal(144, local.Particles.Count);
        Assert.Equal(drawn.Share, Fraction(local), 0.01);
        for (int k = 0; k < 144; k++)
        {
            Particle found = DrawnShapes.Nearest(local, X(k), Y(k));
            Assert.Equal(X(k), found.X, 0.5);
            Assert.Equal(Y(k), found.Y, 0.5);
            Assert.Equal(2 * Radius, found.EquivalentDiameter, 0.6);
        }
    }

    private static double Fraction(SegmentedPicture picture) => picture.Particles.Sum(p => p.Area) / picture.InspectedPixels;
    private static double X(int k) => k % 12 * 40 + 20;
    private static double Y(int k) => k / 12 * 40 + 20;
}
