using CsCheck;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>What must not change the result: tiles, threads, a quarter turn; and what drawn discs of any size and place must give.</summary>
public sealed class InvarianceTests
{
    [Theory]
    [InlineData("discs_af10", 300)]
    [InlineData("touching", 257)]
    [InlineData("noisy_blurred", 200)]
    public void Tiles_do_not_change_a_particle(string name, int tile)
    {
        using MicrographFile file = PictureReader.Open(MadePicture.Read(name).Path);
        SegmentationPlan plan = SegmentationPlan.For(file.Grey, file.Grey.Frame, new(), TestContext.Current.CancellationToken);
        Assert.Equal(Rows(file.Grey, plan, 0), Rows(file.Grey, plan, tile));
    }

    [Fact]
    public void A_particle_wider_than_the_margin_is_whole_in_one_tile()
    {
        using MicrographFile file = PictureReader.Open(MadePicture.Read("band_layers").Path);
        SegmentationPlan plan = SegmentationPlan.For(file.Grey, file.Grey.Frame, new(), TestContext.Current.CancellationToken);
        Assert.Equal(Rows(file.Grey, plan, 0), Rows(file.Grey, plan, 128));
    }

    [Theory]
    [InlineData("discs_af10")]
    [InlineData("discs_af20_dark_tif8")]
    [InlineData("noisy_blurred")]
    public void A_quarter_turn_gives_the_same_particles(string name)
    {
        using MicrographFile file = PictureReader.Open(MadePicture.Read(name).Path);
        GreyPicture upright = (GreyPicture)file.Grey, turned = upright.QuarterTurn();
        SegmentedPicture a = Segment(upright), b = Segment(turned);
        Assert.Equal(a.Particles.Count, b.Particles.Count);
        Assert.Equal(a.Plan.Settings.Polarity, b.Plan.Settings.Polarity);
        // Rounding in the sums of the shading surface moves the threshold by up to 0.01 grey level.
        Assert.Equal(a.Particles.Sum(p => p.Area) / a.InspectedPixels, b.Particles.Sum(p => p.Area) / b.InspectedPixels, 2e-5);
        Assert.Equal(a.Particles.Average(p => p.Aspect), b.Particles.Average(p => p.Aspect), 2e-3);
    }

    [Fact]
    public async Task One_thread_gives_what_many_give()
    {
        CancellationToken cancel = TestContext.Current.CancellationToken;
        using MicrographFile file = PictureReader.Open(MadePicture.Read("touching").Path);
        SegmentationPlan plan = SegmentationPlan.For(file.Grey, file.Grey.Frame, new(), cancel);
        (double, double, int, double)[] many = Rows(file.Grey, plan, 0);
        // Parallel loops started from this scheduler have one worker at a time.
        TaskScheduler one = new ConcurrentExclusiveSchedulerPair().ExclusiveScheduler;
        (double, double, int, double)[] single = await Task.Factory.StartNew(() => Rows(file.Grey, plan, 0), cancel, TaskCreationOptions.None, one);
        Assert.Equal(many, single);
    }

    /// <summary>Discs of random size, place and contrast, drawn with exact coverage: each is found, its area to 2 % and a third of a pixel of its diameter, its centre (of the mask) to a quarter of a pixel.</summary>
    [Fact]
    public void Drawn_discs_are_found_where_they_are() => Gen.Select(Gen.Double[5, 18], Gen.Double[0, 1], Gen.Double[0, 1], Gen.Double[30, 120], Gen.Bool).Sample((radius, dx, dy, contrast, dark) =>
    {
        DrawnDiscs drawn = DrawnDiscs.Lattice(radius, dx, dy, dark ? -contrast : contrast);
        SegmentedPicture found = Segment(drawn.Picture);
        Assert.Equal(drawn.Centres.Count, found.Particles.Count);
        Assert.Equal(dark ? Polarity.Dark : Polarity.Bright, found.Plan.Settings.Polarity);
        foreach ((double x, double y) in drawn.Centres)
        {
            Particle nearest = found.Particles.MinBy(p => (p.X - x) * (p.X - x) + (p.Y - y) * (p.Y - y))!;
            Assert.Equal(x, nearest.X, 0.25);
            Assert.Equal(y, nearest.Y, 0.25);
            Assert.Equal(2 * radius, nearest.EquivalentDiameter, 0.01 * radius + 0.1);
        }
    }, iter: 40, seed: "0000KlzfBN14");

    private static SegmentedPicture Segment(GreyPicture picture)
    {
        SegmentationPlan plan = SegmentationPlan.For(picture, picture.Frame, new(), TestContext.Current.CancellationToken);
        return PictureSegmentation.Run(picture, plan, cancel: TestContext.Current.CancellationToken);
    }

    private static (double X, double Y, int Pixels, double Area)[] Rows(GreySource picture, SegmentationPlan plan, int tile) =>
        [.. PictureSegmentation.Run(picture, plan, tile: tile, cancel: TestContext.Current.CancellationToken).Particles.Select(p => (p.X, p.Y, p.Pixels, p.Area))];
}
