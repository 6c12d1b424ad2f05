using CsCheck;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Areas left out against counting pixel by pixel, and what they do to a measurement.</summary>
public sealed class LeftOutAreaTests
{
    /// <summary>Rectangles that overlap and leave the frame, against asking every pixel.</summary>
    [Fact]
    public void Overlapping_rectangles_count_each_pixel_once() => Gen.Select(Gen.Int[-20, 60], Gen.Int[-20, 40], Gen.Int[1, 50], Gen.Int[1, 50]).Array[1, 6].Sample(boxes =>
    {
        PixelBox frame = new(5, 3, 50, 30);
        LeftOutMask mask = new([.. boxes.Select(b => LeftOutArea.Rectangle(new(b.Item1, b.Item2, b.Item3, b.Item4), "made"))], frame);
        int count = 0;
        for (int y = frame.Y; y < frame.Bottom; y++)
            for (int x = frame.X; x < frame.Right; x++)
            {
                bool inside = boxes.Any(b => new PixelBox(b.Item1, b.Item2, b.Item3, b.Item4).Contains(x, y));
                Assert.Equal(inside, mask.Contains(x, y));
                if (inside) count++;
            }
        Assert.Equal(count, mask.Pixels);
        Assert.Equal(count, mask.PixelsIn(frame));
    }, iter: 200);

    /// <summary>A triangle of legs 100 and 60 holds 3000 pixel middles to within half of its longest side.</summary>
    [Fact]
    public void A_polygon_holds_its_area()
    {
        LeftOutMask mask = new([new([new(10, 10), new(110, 10), new(10, 70)], "made")], new(0, 0, 200, 200));
        Assert.InRange(mask.Pixels, 2940, 3060);
        Assert.True(mask.Contains(20, 20));
        Assert.False(mask.Contains(100, 60));
    }

    [Theory]
    [InlineData("10,20,30,40: scratch", 4, "scratch")]
    [InlineData("0,0 10,0 5,8.5: stain of water: left", 3, "stain of water: left")]
    public void Text_is_read(string text, int corners, string reason)
    {
        Assert.Null(LeftOutArea.TryRead(text, out LeftOutArea? area));
        Assert.Equal(corners, area!.Corners.Count);
        Assert.Equal(reason, area.Reason);
    }

    [Theory]
    [InlineData("10,20,30,40")]
    [InlineData("10,20,30,40: ")]
    [InlineData("10,20,-30,40: x")]
    [InlineData("1,1 2,2: x")]
    [InlineData("a,b,c,d: x")]
    [InlineData("1e9,0,5,5: x")]
    public void Text_that_is_no_area_is_refused(string text) => Assert.NotNull(LeftOutArea.TryRead(text, out _));

    /// <summary>Leaving out the right half measures the left half: the fraction is of what remains.</summary>
    [Fact]
    public void The_fraction_is_of_the_remaining_area()
    {
        MadePicture made = MadePicture.Read("discs_af10");
        LabelPicture truth = made.Truth;
        int half = truth.Width / 2;
        PictureResult result = Measured.Picture(made.Path, new MeasurementOptions { Settings = new() { LeftOut = [LeftOutArea.Rectangle(new(half, 0, truth.Width - half, truth.Height), "right half")] } });
        Assert.Equal((long)half * truth.Height, result.InspectedPixels);
        double left = truth.Labels.Where((v, i) => v > 0 && i % truth.Width < half).Count() / (double)(half * truth.Height);
        Assert.Equal(left, result.AreaFraction.Estimate, 0.002);
        Assert.All(result.ParticleList, p => Assert.True(p.X < half));
        Assert.Contains(result.ParticleList, p => p.Cut && p.Box.Right == half);
        Assert.Contains(result.Notes, n => n.Contains("right half", StringComparison.Ordinal) && n.StartsWith("50 %", StringComparison.Ordinal));
    }

    [Fact]
    public void Leaving_out_everything_is_refused()
    {
        MadePicture made = MadePicture.Read("touching");
        UnusableAreaException refused = Assert.Throws<UnusableAreaException>(() => Measured.Picture(made.Path, new MeasurementOptions { Settings = new() { LeftOut = [LeftOutArea.Rectangle(new(0, 0, 9999, 9999), "all")] } }));
        Assert.Contains("touching.png", refused.Message, StringComparison.Ordinal);
    }
}
