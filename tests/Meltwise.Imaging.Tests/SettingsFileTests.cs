using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Classification;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Saved settings give the same particles again; what is no settings is refused with its place.</summary>
public sealed class SettingsFileTests
{
    private static readonly MarkedArea[] s_examples =
    [
        new(new(0, 0, 40, 40), "left"), new(new(0, 60, 40, 30), "left"), new(new(60, 0, 40, 40), "right"), new(new(60, 60, 30, 30), "right"),
    ];

    [Fact]
    public void A_replay_gives_the_same_particles()
    {
        string path = MadePicture.Read("scalebar_corner").Path;
        MeasurementOptions asked = new() { MicrometresPerPixel = 0.125, Settings = new() { GreyClasses = 2, LeftOut = [new([new(10, 10), new(200, 20), new(90, 150)], "stain")] } };
        PictureResult first = Measured.Picture(path, asked), again = Measured.Picture(path, SettingsFile.Read(SettingsFile.Write(first)));
        Assert.Equal(2, again.Settings.LeftOut.Count);
        Assert.Equal(first.InspectedPixels, again.InspectedPixels);
        Assert.Equal(first.Settings.Level, again.Settings.Level);
        Assert.Equal(first.ParticleList.Select(p => (p.X, p.Y, p.Pixels, p.GreyClass)), again.ParticleList.Select(p => (p.X, p.Y, p.Pixels, p.GreyClass)));
    }

    /// <summary>Smooth on the left, striped on the right, of one mean level: only texture tells them apart.</summary>
    [Fact]
    public void Examples_are_replayed()
    {
        string folder = Directory.CreateTempSubdirectory("settings").FullName, path = Path.Combine(folder, "halves.png");
        byte[] grey = [.. Enumerable.Range(0, 100 * 100).Select(i => (byte)(i % 100 < 50 ? 128 : i / 100 % 4 < 2 ? 98 : 158))];
        using (NetVips.Image image = NetVips.Image.NewFromMemory(grey, 100, 100, 1, NetVips.Enums.BandFormat.Uchar)) image.WriteToFile(path);
        PictureResult first = Measured.Picture(path, new() { KeepMasks = true, Settings = new() { Examples = s_examples, MeasuredClass = "right" } });
        Assert.Equal(0.5, first.AreaFraction.Estimate, 0.05);
        PictureResult again = Measured.Picture(path, SettingsFile.Read(SettingsFile.Write(first)));
        Assert.Equal(first.AreaFraction.Estimate, again.AreaFraction.Estimate);
        Assert.Equal(first.Count, again.Count);
        Assert.Contains("class right", first.Notes.First(n => n.Contains("marked", StringComparison.Ordinal)), StringComparison.Ordinal);
        Directory.Delete(folder, true);
    }

    [Theory]
    [InlineData("")]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{\"version\": 2, \"settings\": {}}")]
    [InlineData("{\"version\": 1}")]
    [InlineData("{\"version\": 1, \"settings\": {\"splitNeck\": 5}}")]
    [InlineData("{\"version\": 1, \"settings\": {\"greyClasses\": 40}}")]
    [InlineData("{\"version\": 1, \"settings\": {\"hysteresisShare\": 0}}")]
    [InlineData("{\"version\": 1, \"settings\": {\"rule\": \"fixed\"}}")]
    [InlineData("{\"version\": 1, \"settings\": {\"rule\": \"guess\"}}")]
    [InlineData("{\"version\": 1, \"settings\": {\"leftOut\": [{\"corners\": [], \"reason\": \"x\"}]}}")]
    [InlineData("{\"version\": 1, \"settings\": {\"threshold\": 5}}")]
    [InlineData("{\"version\": 1, \"micrometresPerPixel\": -1, \"settings\": {}}")]
    public void What_is_no_settings_is_refused(string text) => Assert.Throws<UnreadableSettingsException>(() => SettingsFile.Read(text));

    [Fact]
    public void Examples_without_their_picture_are_refused_for_several()
    {
        string[] files = [MadePicture.Read("heatA_01").Path, MadePicture.Read("heatA_02").Path];
        MeasurementOptions asked = new() { Settings = new() { Examples = s_examples, MeasuredClass = "right" } };
        Assert.Throws<UnusableAreaException>(() => Measured.Pictures(files, asked));
        Assert.Throws<UnusableAreaException>(() => Measured.Picture(files[0], asked with { Settings = asked.Settings with { MeasuredClass = "other" } }));
        MarkedArea[] elsewhere = [.. s_examples.Select(e => e with { Picture = new string('0', 64) })];
        Assert.Throws<UnusableAreaException>(() => Measured.Picture(files[0], asked with { Settings = asked.Settings with { Examples = elsewhere } }));
    }

    /// <summary>The likelihood of a class does not depend on the windows it is read by.</summary>
    [Fact]
    public void The_likelihood_is_the_same_by_windows()
    {
        GreyPicture picture = new(600, 90, [.. Enumerable.Range(0, 600 * 90).Select(i => 128f + 30 * (i % 600 < 300 ? 0 : i / 600 % 4 < 2 ? -1 : 1) + i * 7919 % 11)]);
        PixelClassifier classifier = PixelClassifier.Train(picture, [new(new(0, 0, 60, 60), "a"), new(new(400, 10, 60, 60), "b")], cancel: TestContext.Current.CancellationToken);
        GreySource whole = classifier.Likelihood(picture, "b", TestContext.Current.CancellationToken);
        float[] a = new float[200 * 50], b = new float[200 * 50];
        whole.Read(new(250, 20, 200, 50), a);
        GreySource windows = classifier.Likelihood(new NotHeld(picture), "b", TestContext.Current.CancellationToken);
        windows.Read(new(250, 20, 200, 50), b);
        Assert.Equal(a, b);
    }

    private sealed class NotHeld(GreyPicture picture) : GreySource
    {
        public override int Width => picture.Width;
        public override int Height => picture.Height;
        public override void Read(PixelBox window, Span<float> grey) => picture.Read(window, grey);
    }
}
