using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Two invented heats of made pictures: what is measured alike, and what is refused.</summary>
public sealed class PictureComparisonTests
{
    private static readonly string[] s_a = [.. new[] { "heatA_01", "heatA_02", "heatA_03" }.Select(n => MadePicture.Read(n).Path)];
    private static readonly string[] s_b = [.. new[] { "heatB_01", "heatB_02" }.Select(n => MadePicture.Read(n).Path)];

    [Fact]
    public void Fields_come_back_in_the_order_given_and_areas_are_equal()
    {
        ComparedPictures compared = PictureComparison.Measure(s_a, s_b, new MeasurementOptions { MicrometresPerPixel = 0.1 }, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(s_a, compared.Reference.Images.Select(i => i.File));
        Assert.Equal(s_b, compared.Candidate.Images.Select(i => i.File));
        Assert.Equal([0, 1, 2, 3, 4], compared.Order.Order());
        Assert.Equal(2, compared.ReferenceLargest.Count);
        Assert.Equal(2, compared.CandidateLargest.Count);
        Assert.Equal(2 * compared.Reference.Images[0].InspectedAreaMm2!.Value, compared.EqualArea, 1e-12);
        Assert.Single(compared.Reference.Images.Concat(compared.Candidate.Images).Select(i => (i.Settings.Polarity, i.Settings.SmoothingPx, i.Settings.MinimumAreaPx)).Distinct());
        Assert.Equal(compared.Reference.LargestDiameter.Max(), compared.Reference.LargestDiameter[compared.Reference.WorstField]);
    }

    [Fact]
    public void Pictures_of_different_size_are_refused()
    {
        UnequalPicturesException refused = Assert.Throws<UnequalPicturesException>(() =>
            PictureComparison.Measure(s_a, [s_b[0], MadePicture.Read("discs_af10").Path], new MeasurementOptions { MicrometresPerPixel = 0.1 }, cancel: TestContext.Current.CancellationToken));
        Assert.Contains("one size", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void One_field_of_a_heat_is_refused() =>
        Assert.Throws<UnequalPicturesException>(() => PictureComparison.Measure(s_a, [s_b[0]], cancel: TestContext.Current.CancellationToken));
}
