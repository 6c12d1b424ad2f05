using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>
/// Made and published pictures turned by a quarter, a half and three quarters of a turn, and mirrored. What may differ is stated: pixels that lie across two cells of the light's grid and the rounding of its sums (threshold within 0.001 grey level on made pictures, 0.02 on
/// published ones; fraction within 2e-6 and 1e-4), and necks of exactly equal distance, which parting meets in raster order (count within 0.5 % and 1.5 %, mean diameter within 0.4 % and 1 %).
/// </summary>
public sealed class QuarterTurnTests
{
    public static TheoryData<string, string> Pictures => new(
        Directory.GetFiles(LabelPicture.Folder("made-micrographs")).Where(p => Path.GetExtension(p) is ".png" or ".tif").Where(p => !p.EndsWith("_labels.png", StringComparison.Ordinal) && !p.EndsWith("grains_random.png", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal).Select(p => ("made-micrographs", Path.GetFileName(p)))
            .Concat(new[] { "powder_1.png", "spheroidite_800C_24h_2.png", "spheroidite_800C_85h_1.png", "superalloy_1.png", "uhcs_0006.png", "uhcs_0599.png" }.Select(f => ("open-micrographs", f))));

    [Theory]
    [MemberData(nameof(Pictures))]
    public void Turned_and_mirrored_pictures_give_the_same(string set, string file)
    {
        using MicrographFile opened = PictureReader.Open(Path.Combine(LabelPicture.Folder(set), file));
        GreyPicture upright = (GreyPicture)opened.Grey, quarter = upright.QuarterTurn(), half = quarter.QuarterTurn();
        SegmentedPicture first = Segment(upright);
        double share = Share(first), diameter = Diameter(first);
        List<string> said = [];
        bool holds = true, made = set == "made-micrographs";
        foreach ((string name, GreyPicture turned) in new[] { ("quarter", quarter), ("half", half), ("three quarters", half.QuarterTurn()), ("mirrored", Mirrored(upright)) })
        {
            SegmentedPicture found = Segment(turned);
            double count = Math.Abs(found.Particles.Count - first.Particles.Count), off = Math.Abs(Share(found) - share), wide = Math.Abs(Diameter(found) / diameter - 1), level = Math.Abs(found.Plan.Settings.Level!.Value - first.Plan.Settings.Level!.Value);
            said.Add($"{file} {name}: count {first.Particles.Count} {found.Particles.Count}, fraction off {off:E1}, mean diameter off {wide:E1}, level off {level:F4}, smoothing {first.Plan.Settings.SmoothingPx} {found.Plan.Settings.SmoothingPx}");
            holds &= found.Plan.Settings.Polarity == first.Plan.Settings.Polarity && level <= (made ? 1e-3 : 0.02) && off <= (made ? 2e-6 : 1e-4) && count <= (made ? 0.005 : 0.015) * first.Particles.Count && wide <= (made ? 0.004 : 0.01);
        }
        foreach (string line in said) TestContext.Current.TestOutputHelper?.WriteLine(line);
        Assert.True(holds, string.Join("; ", said));
    }

    private static double Share(SegmentedPicture found) => found.Particles.Sum(p => p.Area) / found.InspectedPixels;

    private static double Diameter(SegmentedPicture found) => found.Particles.Average(p => p.EquivalentDiameter);

    private static GreyPicture Mirrored(GreyPicture picture)
    {
        float[] grey = picture.Grey.ToArray();
        for (int y = 0; y < picture.Height; y++) grey.AsSpan(y * picture.Width, picture.Width).Reverse();
        return new(picture.Width, picture.Height, grey);
    }

    private static SegmentedPicture Segment(GreyPicture picture)
    {
        SegmentationPlan plan = SegmentationPlan.For(picture, picture.Frame, new(), TestContext.Current.CancellationToken);
        return PictureSegmentation.Run(picture, plan, cancel: TestContext.Current.CancellationToken);
    }
}
