using Meltwise.Imaging.Calibration;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>
/// Labels of known text (Published/made-labels) set into made pictures. In fonts the reader knows, at sizes it does not, at least seven of ten are read; in fonts it does not know, six of ten;
/// none is read wrongly, and the bar is measured to a pixel.
/// </summary>
public sealed class ScaleBarLabelTests
{
    [Theory]
    [InlineData(BarStyle.BlackStrip, 0)]
    [InlineData(BarStyle.WhiteStrip, 0)]
    [InlineData(BarStyle.GreyStripOnTop, 0)]
    [InlineData(BarStyle.Box, 0)]
    [InlineData(BarStyle.White, 0)]
    [InlineData(BarStyle.White, 3)]
    [InlineData(BarStyle.Black, 0)]
    [InlineData(BarStyle.Ticked, 0)]
    public void Labels_are_read_and_none_wrongly(BarStyle style, double noise)
    {
        int known = 0, unknown = 0, seed = 0;
        List<string> wrong = [], missed = [];
        foreach ((string File, string Text, double Micrometres, bool Known) label in DrawnBar.Labels)
        {
            DrawnBar drawn = DrawnBar.Of(label, style, noise, ++seed);
            ScaleBarFound? found = ScaleBarReader.Find(drawn.Picture);
            if (found?.Label is not { } read)
            {
                missed.Add($"{label.File} {label.Text}");
                continue;
            }
            if (label.Known) known++;
            else unknown++;
            double length = found.Line!.LengthPixels;
            if (Math.Abs(read.Micrometres / drawn.Micrometres - 1) > 1e-9 || Math.Abs(length - (drawn.To - drawn.From)) > 1) wrong.Add($"{label.File} {label.Text}: {read.Text} {read.Confidence}, {length} of {drawn.To - drawn.From} px");
        }
        int knownAll = DrawnBar.Labels.Count(l => l.Known), unknownAll = DrawnBar.Labels.Count - knownAll;
        string said = $"known fonts {known} of {knownAll}, unknown {unknown} of {unknownAll}; wrong: {string.Join("; ", wrong)}; missed: {string.Join("; ", missed)}";
        TestContext.Current.TestOutputHelper?.WriteLine(said);
        Assert.True(wrong.Count == 0 && known >= 0.7 * knownAll && unknown >= 0.6 * unknownAll, said);
    }

    /// <summary>The published micrograph's own strip: a bar broken by its label, among other texts in micrometre units. Its field width, 3.25 mm over 1024 px, is printed beside it (Published/open-micrographs/glass_bse_truth.json).</summary>
    [Fact]
    public void The_label_of_a_published_micrograph_is_read()
    {
        PictureResult result = Measured.Picture(Path.Combine(LabelPicture.Folder("open-micrographs"), "glass_bse.jpg"));
        Assert.Equal("1.0 mm", result.ScaleBar!.Label!.Text);
        // The bar is printed to the pixel at each end.
        Assert.Equal(3250.0 / 1024, result.Scale.MicrometresPerPixel!.Value, 0.03);
        Assert.Contains("read by machine", result.Scale.Source, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("scalebar_strip", "10 µm")]
    [InlineData("scalebar_corner", "20 µm")]
    public void Labels_of_made_micrographs_are_read(string name, string text)
    {
        MadePicture made = MadePicture.Read(name);
        PictureResult result = Measured.Picture(made.Path);
        Assert.Equal(text, result.ScaleBar!.Label!.Text);
        Assert.Equal(made.Json.GetProperty("scalebar").GetProperty("um_per_px").GetDouble(), result.Scale.MicrometresPerPixel!.Value, 1e-3);
    }
}
