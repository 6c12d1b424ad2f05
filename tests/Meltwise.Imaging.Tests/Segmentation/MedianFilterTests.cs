using System.Text.Json;
using CsCheck;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>The median against sorting each square, and the published procedure on glass with bubbles (Published/open-micrographs/glass_bse_truth.json).</summary>
public sealed class MedianFilterTests
{
    /// <summary>Pictures of any size down to one pixel, of 8 and of 16 bits, against the middle of each sorted square; exact.</summary>
    [Fact]
    public void The_median_is_that_of_the_sorted_square() => Gen.Select(Gen.Int[1, 30], Gen.Int[1, 30], Gen.Int[0, 4], Gen.Bool, Gen.Int[0, 1_000_000]).Sample((width, height, reach, deep, seed) =>
    {
        Random draw = new(seed);
        float[] plane = [.. Enumerable.Range(0, width * height).Select(_ => deep ? draw.Next(65_536) / 257f : draw.Next(256))];
        float[] filtered = [.. plane];
        MedianFilter.Apply(filtered, width, height, 2 * reach + 1, TestContext.Current.CancellationToken);
        for (int y = 0; y < height; y++)
            for (int x = 0; x < width; x++)
                Assert.Equal(Sorted(plane, width, height, x, y, reach), filtered[y * width + x]);
    }, iter: 200, seed: "0000KlzfBN14");

    /// <summary>
    /// The published procedure: 60 rows of data strip dropped, median of 7 x 7, bubbles at 50 and below, glass above 114, bubbles joined across pixel edges. Its printed result is 104 bubbles of mean 1699.875 px and median 65 px,
    /// and its shares follow from the same picture; all are reproduced to the digit.
    /// </summary>
    [Fact]
    public void The_published_procedure_on_glass_is_reproduced()
    {
        string folder = LabelPicture.Folder("open-micrographs");
        JsonElement printed = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "glass_bse_truth.json"))).RootElement.GetProperty("recomputed").GetProperty("drop_bottom_60_rows");
        using MicrographFile file = PictureReader.Open(Path.Combine(folder, "glass_bse.jpg"));
        PixelBox kept = new(0, 0, file.Grey.Width, file.Grey.Height - 60);
        var plane = new float[kept.Area];
        file.Grey.Read(kept, plane);
        MedianFilter.Apply(plane, kept.Width, kept.Height, 7, TestContext.Current.CancellationToken);
        Assert.Equal(printed.GetProperty("void_share").GetDouble(), plane.Count(v => v <= 50) / (double)plane.Length, 1e-12);
        Assert.Equal(printed.GetProperty("sand_share").GetDouble(), plane.Count(v => v is > 50 and <= 114) / (double)plane.Length, 1e-12);
        int[] bubbles = [.. Bubbles(plane, kept.Width).Order()];
        Assert.Equal(printed.GetProperty("n_void").GetInt32(), bubbles.Length);
        Assert.Equal(printed.GetProperty("mean_void_px").GetDouble(), bubbles.Average(), 1e-9);
        Assert.Equal(printed.GetProperty("median_void_px").GetDouble(), 0.5 * (bubbles[(bubbles.Length - 1) / 2] + bubbles[bubbles.Length / 2]));
    }

    /// <summary>The same procedure asked of a measurement: its settings give the published share of bubbles, and no more of them than when only edges join.</summary>
    [Fact]
    public void A_measurement_can_ask_for_the_published_procedure()
    {
        string folder = LabelPicture.Folder("open-micrographs");
        JsonElement printed = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "glass_bse_truth.json"))).RootElement.GetProperty("recomputed").GetProperty("drop_bottom_60_rows");
        using MicrographFile file = PictureReader.Open(Path.Combine(folder, "glass_bse.jpg"));
        PixelBox kept = new(0, 0, file.Grey.Width, file.Grey.Height - 60);
        SegmentationSettings settings = new() { MedianPx = 7, Flatten = false, Polarity = Polarity.Dark, Rule = ThresholdRule.Fixed, Level = 255 - 50.5, Split = false, FillHoles = false, MinimumAreaPx = 1 };
        SegmentationPlan plan = SegmentationPlan.For(file.Grey, kept, settings, TestContext.Current.CancellationToken);
        foreach (int tile in new[] { 0, 200 })
        {
            SegmentedPicture found = PictureSegmentation.Run(file.Grey, plan, tile: tile, cancel: TestContext.Current.CancellationToken);
            Assert.Equal(printed.GetProperty("void_share").GetDouble(), found.Particles.Sum(p => (double)p.Pixels) / kept.Area, 1e-12);
            Assert.InRange(found.Particles.Count, printed.GetProperty("n_void").GetInt32() - 3, printed.GetProperty("n_void").GetInt32());
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    [InlineData(53)]
    public void Sides_must_be_odd_and_bounded(int side) => Assert.NotNull(new SegmentationSettings { MedianPx = side }.Fault());

    private static float Sorted(float[] plane, int width, int height, int x, int y, int reach)
    {
        List<float> square = [];
        for (int j = -reach; j <= reach; j++)
            for (int i = -reach; i <= reach; i++) square.Add(plane[Mirror(y + j, height) * width + Mirror(x + i, width)]);
        square.Sort();
        return square[square.Count / 2];
    }

    /// <summary>Mirrored with the edge repeated, and again where the picture is narrower than the square.</summary>
    private static int Mirror(int i, int n)
    {
        int at = ((i % (2 * n)) + 2 * n) % (2 * n);
        return at < n ? at : 2 * n - 1 - at;
    }

    /// <summary>Pixels of each piece at 50 and below joined across edges.</summary>
    private static List<int> Bubbles(float[] plane, int width)
    {
        List<int> sizes = [];
        var seen = new bool[plane.Length];
        Stack<int> open = new();
        for (int i = 0; i < plane.Length; i++)
        {
            if (seen[i] || plane[i] > 50) continue;
            int size = 0;
            seen[i] = true;
            open.Push(i);
            while (open.TryPop(out int at))
            {
                size++;
                int x = at % width;
                foreach (int next in new[] { x > 0 ? at - 1 : -1, x < width - 1 ? at + 1 : -1, at - width, at + width })
                    if (next >= 0 && next < plane.Length && !seen[next] && plane[next] <= 50)
                    {
                        seen[next] = true;
                        open.Push(next);
                    }
            }
            sizes.Add(size);
        }
        return sizes;
    }
}
