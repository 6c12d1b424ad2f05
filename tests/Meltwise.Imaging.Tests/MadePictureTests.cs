using System.Text.Json;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>
/// Pictures of known shapes (Published/made-micrographs), measured with nothing set by hand.
/// The level to reach is that of the best of four plain pipelines of scikit-image, chosen with the truth in hand: fraction within 0.002 and count within 2 % of its error.
/// </summary>
public sealed class MadePictureTests
{
    public static TheoryData<string> Pictures => ["discs_af10", "discs_af20_dark_tif8", "discs_af05_fine", "noisy_blurred", "uneven_light", "touching",
        "scalebar_corner", "scalebar_strip", "band_layers", "heatA_01", "heatA_02", "heatA_03", "heatB_01", "heatB_02", "heatB_03"];

    [Theory]
    [MemberData(nameof(Pictures))]
    public void Fraction_and_count_reach_the_best_plain_pipeline(string name)
    {
        MadePicture made = MadePicture.Read(name);
        PictureResult result = Measured.Picture(made.Path);
        double allowed = PlainScore.BestFractionError(made.File) + 0.002, error = result.AreaFraction.Estimate - made.Truth.Share;
        Assert.True(Math.Abs(error) <= allowed, $"{name}: fraction {result.AreaFraction.Estimate:F5}, true {made.Truth.Share:F5}, error {error:F5}, allowed {allowed:F5}");
        int count = PlainScore.CountOf(made.File);
        double countError = 100.0 * (result.Count - count) / count, countAllowed = PlainScore.BestCountErrorPercent(made.File) + 2;
        Assert.True(Math.Abs(countError) <= countAllowed, $"{name}: {result.Count} particles, true {count}, allowed {countAllowed:F1} %");
    }

    [Theory]
    [MemberData(nameof(Pictures))]
    public void Polarity_and_scale_are_found(string name)
    {
        MadePicture made = MadePicture.Read(name);
        PictureResult result = Measured.Picture(made.Path);
        Assert.Equal(made.Json.GetProperty("polarity").GetString() == "dark" ? Polarity.Dark : Polarity.Bright, result.Settings.Polarity);
        if (result.Metadata.Format == "TIFF") Assert.Equal(made.Json.GetProperty("um_per_px").GetDouble(), result.Scale.MicrometresPerPixel!.Value, 1e-4);
    }

    /// <summary>Sizes are bounded by what blur and pixels leave: 0.2 px of the mean and median of whole particles; the exact diameters are in the truth.</summary>
    [Theory]
    [InlineData("discs_af10")]
    [InlineData("discs_af20_dark_tif8")]
    [InlineData("discs_af05_fine")]
    [InlineData("uneven_light")]
    [InlineData("heatA_01")]
    [InlineData("heatB_01")]
    public void Diameters_are_recovered(string name)
    {
        MadePicture made = MadePicture.Read(name);
        PictureResult result = Measured.Picture(made.Path);
        JsonElement truth = made.Json.GetProperty("ecd_inside_px");
        Assert.Equal(truth.GetProperty("mean").GetDouble(), result.DiameterPx!.Mean, 0.2);
        Assert.Equal(truth.GetProperty("median").GetDouble(), result.DiameterPx.Median, 0.2);
        Assert.Equal(truth.GetProperty("max").GetDouble(), result.DiameterPx.Largest, 0.2);
    }

    [Fact]
    public void The_band_of_one_grey_step_holds_the_estimate_and_is_narrow_where_edges_are_sharp()
    {
        PictureResult result = Measured.Picture(MadePicture.Read("discs_af10").Path);
        Assert.InRange(result.AreaFraction.Estimate, result.ThresholdBand.Lower, result.ThresholdBand.Upper);
        // Edges of 120 grey levels blurred by 0.8 px: a level moves them by 0.8 √(2π) / 120 = 0.017 px of an outline of 445 particles, 0.0004 of the area.
        Assert.InRange(result.ThresholdBand.Upper - result.ThresholdBand.Lower, 0.0002, 0.0015);
    }

    [Fact]
    public void Replaying_the_settings_gives_the_same_particles()
    {
        string path = MadePicture.Read("noisy_blurred").Path;
        PictureResult first = Measured.Picture(path);
        PictureResult again = Measured.Picture(path, new MeasurementOptions { Settings = first.Settings });
        Assert.Equal(first.ParticleList.Select(p => (p.X, p.Y, p.Pixels)), again.ParticleList.Select(p => (p.X, p.Y, p.Pixels)));
        Assert.Equal(first.AreaFraction.Estimate, again.AreaFraction.Estimate, 1e-4);
    }

    [Fact]
    public void Fields_of_one_heat_pool_to_the_mean_of_the_fields()
    {
        string[] files = [.. new[] { "heatA_01", "heatA_02", "heatA_03" }.Select(n => MadePicture.Read(n).Path)];
        MeasurementResult result = Measured.Pictures(files, new MeasurementOptions { MicrometresPerPixel = 0.1 });
        Assert.Equal(3, result.Pooled.Fields);
        Assert.Equal(result.Images.Average(i => i.AreaFraction.Estimate), result.Pooled.AreaFraction.Estimate, 1e-12);
        Assert.Equal(result.Images.Sum(i => i.Count), result.Pooled.Count);
        Assert.True(result.Pooled.AreaFraction.Lower < result.Images.Min(i => i.AreaFraction.Estimate));
        Assert.Equal(result.Images.Sum(i => i.InspectedAreaMm2!.Value), result.Pooled.InspectedAreaMm2!.Value, 1e-12);
    }

    [Fact]
    public void Work_can_be_stopped_and_progress_ends_at_one()
    {
        string path = MadePicture.Read("heatA_01").Path;
        using CancellationTokenSource stopped = new();
        stopped.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => PictureMeasurement.Measure([path], cancel: stopped.Token));
        List<double> shares = [];
        Measured.Pictures([path, path], progress: new Recorder(shares));
        Assert.Equal(1, shares[^1]);
        Assert.Equal(shares.Order(), shares);
    }

    private sealed class Recorder(List<double> shares) : IProgress<MeasurementProgress>
    {
        public void Report(MeasurementProgress value) => shares.Add(value.Share);
    }
}
