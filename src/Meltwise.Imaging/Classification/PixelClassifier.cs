using System.Globalization;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Classification;

/// <summary>An area that the user has marked as an example of a class.</summary>
/// <param name="Area">The area.</param>
/// <param name="Class">Name of the class, such as matrix, carbide, oxide, pore.</param>
/// <param name="Picture">SHA-256 of the picture it was marked on; null for the one picture measured.</param>
public sealed record MarkedArea(PixelBox Area, string Class, string? Picture = null);

/// <summary>Divides a picture into classes by examples: for phases that no grey level tells apart, such as a smooth net of carbide between mottled grains of its own level.</summary>
/// <remarks>
/// <para><b>Method.</b> <see cref="PixelFeatures"/> of the marked pixels train <see cref="RandomisedTrees"/>, 60 trees; at most 3000 pixels of a class are used, evenly spaced over its areas.</para>
/// <para><b>Limits.</b> Only as good as the examples: mark places that differ. The accuracy given is on marked areas left out in turn (every fifth pixel), which is optimistic, as neighbours are alike.</para>
/// </remarks>
public sealed class PixelClassifier
{
    private const int Trees = 60, MaxPerClass = 3000, BlockSide = 512;
    private readonly RandomisedTrees _forest;

    private PixelClassifier(RandomisedTrees forest, string[] classes, double accuracy) => (_forest, Classes, MarkedAccuracy) = (forest, classes, accuracy);

    /// <summary>Names of the classes, in the order of the class numbers from 0.</summary>
    public IReadOnlyList<string> Classes { get; }

    /// <summary>Share of marked pixels left out of training that were put in their class; optimistic.</summary>
    public double MarkedAccuracy { get; }

    /// <summary>Trains on marked areas of one picture.</summary>
    /// <param name="picture">The picture.</param>
    /// <param name="areas">Marked areas, at least two classes.</param>
    /// <param name="seed">Seed; the result is the same at any number of threads.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableAreaException">Fewer than two classes, or an area outside the picture.</exception>
    public static PixelClassifier Train(GreySource picture, IReadOnlyList<MarkedArea> areas, int seed = 1, CancellationToken cancel = default) => Train([(picture, areas)], seed, cancel);

    /// <summary>Trains on marked areas of several pictures taken alike.</summary>
    /// <param name="pictures">Each picture with the areas marked on it; at least two classes over all.</param>
    /// <param name="seed">Seed; the result is the same at any number of threads.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableAreaException">Fewer than two classes, or an area outside its picture.</exception>
    public static PixelClassifier Train(IReadOnlyList<(GreySource Picture, IReadOnlyList<MarkedArea> Areas)> pictures, int seed = 1, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(pictures);
        string[] classes = [.. pictures.SelectMany(p => p.Areas).Select(a => a.Class).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        if (classes.Length < 2) throw new UnusableAreaException("Mark areas of at least two classes.");
        foreach ((GreySource picture, IReadOnlyList<MarkedArea> areas) in pictures)
            if (areas.FirstOrDefault(a => a.Area.Area == 0 || a.Area.Intersect(picture.Frame) != a.Area) is { } outside)
                throw new UnusableAreaException(string.Create(CultureInfo.InvariantCulture, $"The area of class {outside.Class} at column {outside.Area.X}, row {outside.Area.Y} is empty or leaves the picture of {picture.Width} x {picture.Height} pixels."));
        List<float[]> rows = [];
        List<int> labels = [];
        for (int c = 0; c < classes.Length; c++)
        {
            (GreySource Picture, PixelBox Area)[] own = [.. pictures.SelectMany(p => p.Areas.Where(a => a.Class == classes[c]).Select(a => (p.Picture, a.Area)))];
            foreach (float[] row in Examples(own, cancel))
            {
                rows.Add(row);
                labels.Add(c);
            }
        }
        float[][] all = [.. rows];
        int[] numbers = [.. labels];
        return new(RandomisedTrees.Grow(all, numbers, classes.Length, Trees, seed), classes, LeftOut(all, numbers, classes.Length, seed));
    }

    /// <summary>Class of every pixel, row by row.</summary>
    /// <param name="picture">A picture taken like the one trained on.</param>
    /// <param name="cancel">Stops the work.</param>
    public byte[] Classify(GreySource picture, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(picture);
        var result = new byte[picture.Width * picture.Height];
        foreach (PixelBox block in Blocks(picture.Frame)) Answer(picture, block, picture.Frame, (i, best, _) => result[i] = (byte)best, cancel);
        return result;
    }

    /// <summary>Each pixel's share of one class as a grey picture (0 to 255), to be measured like any other; read window by window, so a picture of any size will do.</summary>
    /// <param name="picture">A picture taken like the one trained on.</param>
    /// <param name="name">Name of the class.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableAreaException">There is no such class.</exception>
    public GreySource Likelihood(GreySource picture, string name, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(picture);
        int wanted = Classes.ToList().IndexOf(name);
        if (wanted < 0) throw new UnusableAreaException($"No area is marked as {name}; there are {string.Join(", ", Classes)}.");
        LikelihoodSource source = new(this, picture, wanted, cancel);
        if (picture is not GreyPicture) return source;
        var grey = new float[picture.Width * picture.Height];
        source.Read(picture.Frame, grey);
        return new GreyPicture(picture.Width, picture.Height, grey);
    }

    private static List<float[]> Examples((GreySource Picture, PixelBox Area)[] areas, CancellationToken cancel)
    {
        long pixels = areas.Sum(a => a.Area.Area), step = Math.Max(1, pixels / MaxPerClass), next = 0, before = 0;
        List<float[]> rows = [];
        foreach ((GreySource picture, PixelBox area) in areas)
        {
            foreach (PixelBox block in Blocks(area))
            {
                PixelFeatures features = PixelFeatures.Of(picture, block, cancel);
                for (; next < before + block.Area; next += step)
                {
                    var row = new float[PixelFeatures.Count];
                    features.Copy((int)(next - before), row);
                    rows.Add(row);
                }
                before += block.Area;
            }
        }
        return rows;
    }

    /// <summary>Parts of a window small enough that their features fit in memory.</summary>
    private static IEnumerable<PixelBox> Blocks(PixelBox window)
    {
        for (int y = window.Y; y < window.Bottom; y += BlockSide)
            for (int x = window.X; x < window.Right; x += BlockSide) yield return new PixelBox(x, y, BlockSide, BlockSide).Intersect(window);
    }

    /// <summary>Tells each pixel of a block: its index in the window, its class and the shares of the classes.</summary>
    private void Answer(GreySource picture, PixelBox block, PixelBox window, ReadAnswer answer, CancellationToken cancel)
    {
        PixelFeatures features = PixelFeatures.Of(picture, block, cancel);
        RowBands.Run(block.Height, (from, to) =>
        {
            Span<float> row = stackalloc float[PixelFeatures.Count];
            Span<double> shares = stackalloc double[Classes.Count];
            for (int y = from; y < to; y++)
                for (int x = 0; x < block.Width; x++)
                {
                    features.Copy(y * block.Width + x, row);
                    int best = _forest.Classify(row, shares);
                    answer((block.Y + y - window.Y) * window.Width + block.X + x - window.X, best, shares);
                }
        }, cancel);
    }

    private delegate void ReadAnswer(int pixel, int best, ReadOnlySpan<double> shares);

    private sealed class LikelihoodSource(PixelClassifier classifier, GreySource picture, int wanted, CancellationToken cancel) : GreySource
    {
        public override int Width => picture.Width;
        public override int Height => picture.Height;

        public override void Read(PixelBox window, Span<float> grey)
        {
            var levels = new float[window.Area];
            foreach (PixelBox block in Blocks(window)) classifier.Answer(picture, block, window, (i, _, shares) => levels[i] = (float)(255 * shares[wanted]), cancel);
            levels.CopyTo(grey);
        }
    }

    private static double LeftOut(float[][] rows, int[] labels, int classes, int seed)
    {
        const int fold = 5;
        int[] kept = [.. Enumerable.Range(0, labels.Length).Where(i => i % fold != 0)], left = [.. Enumerable.Range(0, labels.Length).Where(i => i % fold == 0)];
        RandomisedTrees trees = RandomisedTrees.Grow([.. kept.Select(i => rows[i])], [.. kept.Select(i => labels[i])], classes, Trees / 3, seed);
        var shares = new double[classes];
        return left.Length == 0 ? 0 : left.Count(i => trees.Classify(rows[i], shares) == labels[i]) / (double)left.Length;
    }
}
