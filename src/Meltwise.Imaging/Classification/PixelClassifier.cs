using System.Globalization;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Classification;

/// <summary>An area that the user has marked as an example of a class.</summary>
/// <param name="Area">The area.</param>
/// <param name="Class">Name of the class, such as matrix, carbide, oxide, pore.</param>
public sealed record MarkedArea(PixelBox Area, string Class);

/// <summary>Divides a picture into classes by examples: for phases that no grey level tells apart, such as a smooth net of carbide between mottled grains of its own level.</summary>
/// <remarks>
/// <para><b>Method.</b> <see cref="PixelFeatures"/> of the marked pixels train <see cref="RandomisedTrees"/>, 60 trees; at most 3000 pixels of a class are used, evenly spaced over its areas.</para>
/// <para><b>Limits.</b> Only as good as the examples: mark places that differ. The accuracy given is on marked areas left out in turn (every fifth pixel), which is optimistic, as neighbours are alike.</para>
/// </remarks>
public sealed class PixelClassifier
{
    private const int Trees = 60, MaxPerClass = 3000;
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
    /// <exception cref="ArgumentException">Fewer than two classes, or an area outside the picture.</exception>
    public static PixelClassifier Train(GreyPicture picture, IReadOnlyList<MarkedArea> areas, int seed = 1, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentNullException.ThrowIfNull(areas);
        string[] classes = [.. areas.Select(a => a.Class).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        if (classes.Length < 2) throw new ArgumentException("Mark areas of at least two classes.", nameof(areas));
        if (areas.FirstOrDefault(a => a.Area.Area == 0 || a.Area.Intersect(picture.Frame) != a.Area) is { } outside)
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"The area of class {outside.Class} at column {outside.Area.X}, row {outside.Area.Y} is empty or leaves the picture."), nameof(areas));
        PixelFeatures features = new(picture, cancel);
        List<float[]> rows = [];
        List<int> labels = [];
        for (int c = 0; c < classes.Length; c++)
        {
            int[] pixels = [.. areas.Where(a => a.Class == classes[c]).SelectMany(a => Pixels(a.Area, picture.Width))];
            int step = Math.Max(1, pixels.Length / MaxPerClass);
            for (int k = 0; k < pixels.Length; k += step)
            {
                var row = new float[PixelFeatures.Count];
                features.Copy(pixels[k], row);
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
    public byte[] Classify(GreyPicture picture, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(picture);
        PixelFeatures features = new(picture, cancel);
        var result = new byte[picture.Width * picture.Height];
        RowBands.Run(picture.Height, (from, to) =>
        {
            Span<float> row = stackalloc float[PixelFeatures.Count];
            Span<double> shares = stackalloc double[Classes.Count];
            for (int i = from * picture.Width; i < to * picture.Width; i++)
            {
                features.Copy(i, row);
                result[i] = (byte)_forest.Classify(row, shares);
            }
        }, cancel);
        return result;
    }

    /// <summary>Each pixel's share of one class as a grey picture (0 to 255), to be measured like any other.</summary>
    /// <param name="picture">A picture taken like the one trained on.</param>
    /// <param name="name">Name of the class.</param>
    /// <param name="cancel">Stops the work.</param>
    public GreyPicture Likelihood(GreyPicture picture, string name, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(picture);
        int wanted = Classes.ToList().IndexOf(name);
        if (wanted < 0) throw new ArgumentException($"No class {name}; there are {string.Join(", ", Classes)}.", nameof(name));
        PixelFeatures features = new(picture, cancel);
        var result = new float[picture.Width * picture.Height];
        RowBands.Run(picture.Height, (from, to) =>
        {
            Span<float> row = stackalloc float[PixelFeatures.Count];
            Span<double> shares = stackalloc double[Classes.Count];
            for (int i = from * picture.Width; i < to * picture.Width; i++)
            {
                features.Copy(i, row);
                _forest.Classify(row, shares);
                result[i] = (float)(255 * shares[wanted]);
            }
        }, cancel);
        return new GreyPicture(picture.Width, picture.Height, result);
    }

    private static double LeftOut(float[][] rows, int[] labels, int classes, int seed)
    {
        const int fold = 5;
        int[] kept = [.. Enumerable.Range(0, labels.Length).Where(i => i % fold != 0)], left = [.. Enumerable.Range(0, labels.Length).Where(i => i % fold == 0)];
        RandomisedTrees trees = RandomisedTrees.Grow([.. kept.Select(i => rows[i])], [.. kept.Select(i => labels[i])], classes, Trees / 3, seed);
        var shares = new double[classes];
        return left.Length == 0 ? 0 : left.Count(i => trees.Classify(rows[i], shares) == labels[i]) / (double)left.Length;
    }

    private static IEnumerable<int> Pixels(PixelBox box, int width)
    {
        for (int y = box.Y; y < box.Bottom; y++)
            for (int x = box.X; x < box.Right; x++) yield return y * width + x;
    }
}
