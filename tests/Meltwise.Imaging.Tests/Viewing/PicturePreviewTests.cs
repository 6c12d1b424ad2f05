using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Viewing;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>A preview is near the full measurement where particles are wide against its pixels, and says that it is a preview.</summary>
public sealed class PicturePreviewTests
{
    [Theory]
    [InlineData("discs_af10", 200_000)]
    [InlineData("scalebar_strip", 200_000)]
    [InlineData("uneven_light", 250_000)]
    public void A_preview_is_near_the_whole(string name, long pixels)
    {
        MadePicture made = MadePicture.Read(name);
        using MicrographFile file = PictureReader.Open(made.Path);
        PicturePreview preview = PicturePreview.Of(file, pixels, TestContext.Current.CancellationToken);
        Assert.InRange(preview.Width * preview.Height, 1, pixels);
        MeasurementOptions options = new() { MicrometresPerPixel = 0.1, Settings = new() { LeftOut = [LeftOutArea.Rectangle(new(100, 100, 200, 200), "stain")] } };
        PictureResult whole = PictureMeasurement.Measure(file, options, cancel: TestContext.Current.CancellationToken);
        PreviewResult found = preview.Measure(options, TestContext.Current.CancellationToken);
        Assert.True(found.Factor >= 2);
        Assert.StartsWith("Preview:", found.Result.Notes[0], StringComparison.Ordinal);
        Assert.Equal(whole.AreaFraction.Estimate, found.Result.AreaFraction.Estimate, 0.01);
        Assert.Equal(whole.Settings.Polarity, found.Result.Settings.Polarity);
        Assert.Equal(whole.InspectedAreaMm2!.Value, found.Result.InspectedAreaMm2!.Value, 0.02 * whole.InspectedAreaMm2.Value);
        Assert.Equal(whole.DiameterUm!.Largest, found.Result.DiameterUm!.Largest, 0.05 * whole.DiameterUm.Largest);
        Assert.Equal(options.Settings.LeftOut, found.Result.Settings.LeftOut);
    }

    [Fact]
    public void A_small_picture_is_measured_in_full()
    {
        MadePicture made = MadePicture.Read("touching");
        using MicrographFile file = PictureReader.Open(made.Path);
        PreviewResult found = PicturePreview.Of(file, cancel: TestContext.Current.CancellationToken).Measure(cancel: TestContext.Current.CancellationToken);
        Assert.Equal(1, found.Factor);
        Assert.Equal(Measured.Picture(made.Path).ParticleList.Select(p => (p.X, p.Area)), found.Result.ParticleList.Select(p => (p.X, p.Area)));
    }

    /// <summary>Outlines enclose the pixels of the mask: the shoelace area is the pixel count, holes counting negative.</summary>
    [Fact]
    public void Outlines_enclose_the_pixels()
    {
        PictureResult result = Measured.Picture(MadePicture.Read("touching").Path, new() { KeepMasks = true });
        foreach (Particle p in result.ParticleList)
        {
            double area = ParticleOutline.Of(p.Mask).Sum(o => o.Select((a, i) => (a, b: o[(i + 1) % o.Count])).Sum(e => e.a.X * e.b.Y - e.b.X * e.a.Y) / 2);
            Assert.Equal(p.Pixels, area);
        }
    }
}
