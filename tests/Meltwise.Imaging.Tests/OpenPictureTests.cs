using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>
/// Openly licensed micrographs with masks made by others (Published/open-micrographs), measured with nothing set by hand, polarity included.
/// The level to reach, on average, is that of each plain pipeline of scikit-image, which were told the polarity. Counts are not judged: the masks leave out small particles.
/// </summary>
public sealed class OpenPictureTests
{
    [Fact]
    public void Overlap_and_fraction_are_better_on_average_than_every_plain_pipeline()
    {
        string folder = LabelPicture.Folder("open-micrographs");
        List<(string File, double Dice, double Error)> scores = [];
        foreach (string path in Directory.GetFiles(folder).Where(IsPicture).Order(StringComparer.Ordinal)) scores.Add(Score(path));
        Assert.Equal(18, scores.Count);
        double dice = scores.Average(s => s.Dice), error = scores.Average(s => Math.Abs(s.Error));
        foreach (string pipeline in new[] { "P1", "P2", "P3", "P4" })
        {
            PlainScore[] plain = [.. PlainScore.All.Where(p => p.Pipeline == pipeline && scores.Any(s => s.File == p.File))];
            Assert.Equal(18, plain.Length);
            Assert.True(dice > plain.Average(p => p.Dice), $"{pipeline}: Dice {plain.Average(p => p.Dice):F4}, ours {dice:F4}");
            Assert.True(error < plain.Average(p => Math.Abs(p.FractionError)), $"{pipeline}: fraction error {plain.Average(p => Math.Abs(p.FractionError)):F4}, ours {error:F4}");
        }
    }

    private static bool IsPicture(string path) => Path.GetFileNameWithoutExtension(path) is var name && Path.GetExtension(path) is ".png" or ".tif"
        && !name.EndsWith("_mask", StringComparison.Ordinal) && !name.EndsWith("_classes", StringComparison.Ordinal) && !name.EndsWith("_labels", StringComparison.Ordinal);

    private static (string File, double Dice, double Error) Score(string path)
    {
        string name = Path.GetFileName(path), stem = Path.Combine(Path.GetDirectoryName(path)!, Path.GetFileNameWithoutExtension(path));
        bool masksLeaveOutCut = name.StartsWith("spheroidite", StringComparison.Ordinal);
        LabelPicture truth = masksLeaveOutCut ? LabelPicture.Read(stem + "_mask.png").Pieces(v => v > 0).Inside()
            : name.StartsWith("powder", StringComparison.Ordinal) ? LabelPicture.Read(stem + "_labels.png")
            : LabelPicture.Read(stem + "_classes.png").Pieces(name.StartsWith("uhcs", StringComparison.Ordinal) ? v => v >= 2 : v => v >= 1);
        PictureResult result = Measured.Picture(path, new MeasurementOptions { KeepMasks = true });
        LabelPicture found = LabelPicture.Of(result, truth.Width, truth.Height, insideOnly: masksLeaveOutCut);
        return (name, found.Dice(truth), found.Share - truth.Share);
    }
}
