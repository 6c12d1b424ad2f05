using System.Text.Json;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Reading;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Bars of known ends in made pictures, and the data strip of a published micrograph whose field width is printed in it.</summary>
public sealed class ScaleBarTests
{
    [Theory]
    [InlineData("scalebar_strip")]
    [InlineData("scalebar_corner")]
    public void Made_bars_are_found_to_the_pixel(string name)
    {
        MadePicture made = MadePicture.Read(name);
        JsonElement truth = made.Json.GetProperty("scalebar");
        PictureResult result = Measured.Picture(made.Path, new MeasurementOptions { ScaleBarMicrometres = truth.GetProperty("bar_um").GetDouble() });
        Assert.Equal(truth.GetProperty("bar_px").GetDouble(), result.ScaleBar!.Line!.LengthPixels, 0.5);
        Assert.Equal(truth.GetProperty("um_per_px").GetDouble(), result.Scale.MicrometresPerPixel!.Value, 1e-3);
        if (result.ScaleBar.FullWidth) Assert.Equal(truth.GetProperty("strip_rows")[0].GetInt32(), result.ScaleBar.Area.Y);
        else Assert.Equal(MadePicture.Box(truth), result.ScaleBar.Area);
    }

    [Fact]
    public void The_strip_of_a_published_micrograph_is_left_out()
    {
        using MicrographFile file = PictureReader.Open(Path.Combine(LabelPicture.Folder("open-micrographs"), "glass_bse.jpg"));
        ScaleBarFound bar = ScaleBarReader.Find(file.Grey)!;
        Assert.True(bar.FullWidth);
        // The last 60 rows, as the record of the picture states; JPEG blurs the first of them.
        Assert.InRange(bar.Area.Y, file.Grey.Height - 62, file.Grey.Height - 56);
    }

    [Theory]
    [InlineData("discs_af10")]
    [InlineData("touching")]
    [InlineData("band_layers")]
    public void A_picture_without_a_bar_has_none(string name)
    {
        using MicrographFile file = PictureReader.Open(MadePicture.Read(name).Path);
        Assert.Null(ScaleBarReader.Find(file.Grey));
    }
}
