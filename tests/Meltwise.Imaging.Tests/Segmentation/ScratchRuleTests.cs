using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Drawn discs among straight scratches in four directions, a stubby rod and a curved net: only what is long, thin and straight goes.</summary>
public sealed class ScratchRuleTests
{
    private const int Discs = 15;

    [Fact]
    public void Scratches_go_and_particles_stay()
    {
        DrawnShapes drawn = Particles();
        double particles = drawn.Share;
        Scratch(drawn);
        SegmentedPicture all = drawn.Found(new()), kept = drawn.Found(new() { RemoveScratches = true });
        Assert.Equal(Discs + 2 + 4, all.Particles.Count);
        Assert.Equal(Discs + 2, kept.Particles.Count);
        Assert.Contains("4 long straight features were left out as scratches.", kept.Notes);
        // A twentieth of a pixel along every outline is 0.0003 of this picture.
        Assert.Equal(particles, kept.Particles.Sum(p => p.Area) / kept.InspectedPixels, 0.0005);
        Assert.Equal(drawn.Share, all.Particles.Sum(p => p.Area) / all.InspectedPixels, 0.0008);
    }

    [Fact]
    public void Without_scratches_nothing_goes_and_nothing_is_noted()
    {
        SegmentedPicture kept = Particles().Found(new() { RemoveScratches = true });
        Assert.Equal(Discs + 2, kept.Particles.Count);
        Assert.DoesNotContain(kept.Notes, n => n.Contains("scratches", StringComparison.Ordinal));
    }

    private static DrawnShapes Particles()
    {
        DrawnShapes drawn = new(500, _ => 110);
        for (int k = 0; k < Discs; k++) drawn.Disc(k % 5 * 50 + 30, k / 5 * 50 + 30, 8 + k % 3, 80);
        drawn.Bar(320, 40, 420, 40, 14, 80);
        drawn.Arc(400, 180, 60, 4, 80);
        return drawn;
    }

    private static void Scratch(DrawnShapes drawn)
    {
        drawn.Bar(20, 230, 480, 230, 3, 80);
        drawn.Bar(480, 20, 480, 210, 3, 80);
        drawn.Bar(20, 470, 220, 260, 3, 80);
        drawn.Bar(250, 260, 470, 400, 4, 80);
    }
}
