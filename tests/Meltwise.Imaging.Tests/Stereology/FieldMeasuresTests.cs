using System.Text.Json;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Meltwise.Imaging.Stereology;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Point counts, means over fields and interceptions against scikit-image and numpy (Oracles/scikit-image) on the truth masks, and a hand-made checker.</summary>
public sealed class FieldMeasuresTests
{
    [Fact]
    public void Mean_over_24_fields_agrees_with_SciPy()
    {
        JsonElement oracle = Oracle("reference_e562.json").GetProperty("heatA").GetProperty("truth_masks");
        FieldSummary found = FieldMean.Of([.. oracle.GetProperty("fields").EnumerateArray().Select(v => v.GetDouble())]);
        Assert.Equal(oracle.GetProperty("mean").GetDouble(), found.Mean, 1e-12);
        Assert.Equal(oracle.GetProperty("s").GetDouble(), found.StandardDeviation!.Value, 1e-12);
        Assert.Equal(oracle.GetProperty("ci95").GetDouble(), found.HalfWidth95!.Value, 1e-10);
        Assert.Equal(oracle.GetProperty("ra_percent").GetDouble(), found.RelativeAccuracyPercent!.Value, 1e-8);
    }

    [Theory]
    [InlineData("heatA_01", 0)]
    [InlineData("heatA_02", 1)]
    [InlineData("heatA_03", 2)]
    public void Point_counts_of_truth_masks_agree(string name, int field)
    {
        double expected = Oracle("reference_e562.json").GetProperty("heatA").GetProperty("truth_masks").GetProperty("fields")[field].GetDouble();
        Assert.Equal(expected, PointCount.Share(Segment(name)), 1e-12);
    }

    [Theory]
    [InlineData("heatA_01")]
    [InlineData("band_layers")]
    [InlineData("discs_af10")]
    public void Interceptions_of_truth_masks_agree_with_numpy(string name)
    {
        JsonElement truth = MadePicture.Read(name).Json.GetProperty("banding");
        Interceptions found = Interceptions.Of(Segment(name), smoothOutlines: false);
        Assert.Equal(truth.GetProperty("N_L_parallel_per_px").GetDouble(), found.Parallel, 1e-12);
        Assert.Equal(truth.GetProperty("N_L_perpendicular_per_px").GetDouble(), found.Perpendicular, 1e-12);
        Assert.Equal(truth.GetProperty("anisotropy_index").GetDouble(), found.AnisotropyIndex!.Value, 1e-9);
        Assert.Equal(truth.GetProperty("degree_of_orientation").GetDouble(), found.DegreeOfOrientation!.Value, 1e-9);
        Assert.Equal(truth.GetProperty("mean_free_path_parallel_px").GetDouble(), found.MeanFreePathParallelPx!.Value, 1e-6);
    }

    /// <summary>Banding measured from the grey picture: within 5 % of the truth, as far as the plain pipeline is.</summary>
    [Fact]
    public void Banding_of_layers_is_recovered_from_the_picture()
    {
        MadePicture made = MadePicture.Read("band_layers");
        Interceptions found = Measured.Picture(made.Path).Interceptions!;
        Assert.Equal(made.Json.GetProperty("banding").GetProperty("degree_of_orientation").GetDouble(), found.DegreeOfOrientation!.Value, 0.02);
    }

    /// <summary>The truth mask drawn in two levels, taken as it is.</summary>
    private static SegmentedPicture Segment(string name)
    {
        LabelPicture mask = LabelPicture.Read(Path.Combine(LabelPicture.Folder("made-micrographs"), name + "_labels.png"));
        GreyPicture picture = new(mask.Width, mask.Height, [.. mask.Labels.Select(v => v > 0 ? 200f : 50f)]);
        SegmentationSettings asDrawn = new() { Level = 125, Flatten = false, SmoothingPx = 0, Split = false, FillHoles = false, MinimumAreaPx = 1, Polarity = Polarity.Bright };
        SegmentationPlan plan = SegmentationPlan.For(picture, picture.Frame, asDrawn, TestContext.Current.CancellationToken);
        return PictureSegmentation.Run(picture, plan, keepMasks: true, cancel: TestContext.Current.CancellationToken);
    }

    private static JsonElement Oracle(string file) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "scikit-image", file))).RootElement;
}
