using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>
/// Openly licensed micrographs with masks made by others (Published/open-micrographs), measured with nothing set by hand, polarity included.
/// The level to reach, on average, is that of each plain pipeline of scikit-image, which were told the polarity. Counts are not judged: the masks leave out small particles.
/// </summary>
public sealed class OpenPictureTests
{
    /// <summary>The single-mode rule was shaped on these pictures, so the claim is held without it too; the gain from it is shown and is no independent test.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Overlap_and_fraction_are_better_on_average_than_every_plain_pipeline(bool singleMode)
    {
        (string File, double Dice, double Error)[] scores = Scores(singleMode);
        Assert.Equal(18, scores.Length);
        double dice = scores.Average(s => s.Dice), error = scores.Average(s => Math.Abs(s.Error));
        TestContext.Current.TestOutputHelper?.WriteLine($"single-mode rule {(singleMode ? "on" : "off")}: mean Dice {dice:F4}, mean fraction error {error:F4}");
        foreach ((string file, double own, double off) in scores) TestContext.Current.TestOutputHelper?.WriteLine($"{file}: Dice {own:F4}, fraction error {off:F4}");
        foreach (string pipeline in new[] { "P1", "P2", "P3", "P4" })
        {
            PlainScore[] plain = [.. PlainScore.All.Where(p => p.Pipeline == pipeline && scores.Any(s => s.File == p.File))];
            Assert.Equal(18, plain.Length);
            TestContext.Current.TestOutputHelper?.WriteLine($"{pipeline}: mean Dice {plain.Average(p => p.Dice):F4}, mean fraction error {plain.Average(p => Math.Abs(p.FractionError)):F4}");
            Assert.True(dice > plain.Average(p => p.Dice), $"{pipeline}: Dice {plain.Average(p => p.Dice):F4}, ours {dice:F4}");
            Assert.True(error < plain.Average(p => Math.Abs(p.FractionError)), $"{pipeline}: fraction error {plain.Average(p => Math.Abs(p.FractionError)):F4}, ours {error:F4}");
        }
    }

    private static (string File, double Dice, double Error)[] Scores(bool singleMode) =>
        [.. Directory.GetFiles(LabelPicture.Folder("open-micrographs")).Where(IsPicture).Order(StringComparer.Ordinal).Select(path => Score(path, singleMode))];

    private static bool IsPicture(string path) => Path.GetFileNameWithoutExtension(path) is var name && Path.GetExtension(path) is ".png" or ".tif"
        && !name.EndsWith("_mask", StringComparison.Ordinal) && !name.EndsWith("_classes", StringComparison.Ordinal) && !name.EndsWith("_labels", StringComparison.Ordinal);

    private static (string File, double Dice, double Error) Score(string path, bool singleMode)
    {
        string name = Path.GetFileName(path), stem = Path.Combine(Path.GetDirectoryName(path)!, Path.GetFileNameWithoutExtension(path));
        bool masksLeaveOutCut = name.StartsWith("spheroidite", StringComparison.Ordinal);
        LabelPicture truth = masksLeaveOutCut ? LabelPicture.Read(stem + "_mask.png").Pieces(v => v > 0).Inside()
            : name.StartsWith("powder", StringComparison.Ordinal) ? LabelPicture.Read(stem + "_labels.png")
            : LabelPicture.Read(stem + "_classes.png").Pieces(name.StartsWith("uhcs", StringComparison.Ordinal) ? v => v >= 2 : v => v >= 1);
        PictureResult result = Measured.Picture(path, new MeasurementOptions { KeepMasks = true, Settings = new() { SingleMode = singleMode } });
        LabelPicture found = LabelPicture.Of(result, truth.Width, truth.Height, insideOnly: masksLeaveOutCut);
        return (name, found.Dice(truth), found.Share - truth.Share);
    }
}
