using System.Globalization;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging;

/// <summary>Measures the pictures of two heats alike, so that their difference is the steel's and not the setting's.</summary>
/// <remarks>
/// <para><b>Rule.</b> One scale, one polarity, one smoothing and one smallest area for all pictures; the threshold rule is the same but its level follows each picture's own matrix, since exposure differs between pictures.
/// Pictures are measured in an order shuffled over both heats. Fields must be of one size before areas are left out. For the largest particle both heats show the same number of fields of equal inspected area, drawn by the same shuffle.</para>
/// <para><b>Limits.</b> Fields are sub-samples of a heat, not heats: a difference of fields speaks for these mounts. Refuses pictures of different scale or field size.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
public static class PictureComparison
{
    private const double MostDifference = 0.01;

    /// <summary>Measures both heats.</summary>
    /// <param name="reference">Pictures of the reference heat, at least two.</param>
    /// <param name="candidate">Pictures of the candidate heat, at least two.</param>
    /// <param name="options">What to do; settings left open are settled for all pictures together.</param>
    /// <param name="seed">Seed of the shuffle.</param>
    /// <param name="progress">Told how far the work is.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnequalPicturesException">The pictures cannot be compared; the message says why.</exception>
    public static ComparedPictures Measure(IReadOnlyList<string> reference, IReadOnlyList<string> candidate, MeasurementOptions? options = null, int seed = 1,
        IProgress<MeasurementProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(reference);
        ArgumentNullException.ThrowIfNull(candidate);
        if (reference.Count < 2 || candidate.Count < 2)
            throw new UnequalPicturesException("A comparison of pictures needs at least two fields of each heat.");
        string[] files = [.. reference, .. candidate];
        int[] order = [.. Enumerable.Range(0, files.Length)];
        new Random(seed).Shuffle(order);
        string[] shuffled = [.. order.Select(i => files[i])];
        MeasurementOptions asked = options ?? new();
        MeasurementResult first = PictureMeasurement.Measure(shuffled, asked, progress, cancel);
        SegmentationSettings common = Common(asked.Settings, first.Images);
        bool alike = first.Images.All(i => i.Settings.Polarity == common.Polarity && i.Settings.SmoothingPx == common.SmoothingPx);
        IReadOnlyList<PictureResult> images = alike ? first.Images : PictureMeasurement.Measure(shuffled, asked with { Settings = common }, progress, cancel).Images;
        Require(images);
        var inOrder = new PictureResult[files.Length];
        for (int k = 0; k < order.Length; k++) inOrder[order[k]] = images[k];
        PictureFields a = Fields(inOrder[..reference.Count], asked.MountOf), b = Fields(inOrder[reference.Count..], asked.MountOf);
        int[] la = Whole(order, 0, reference.Count, inOrder), lb = Whole(order, reference.Count, files.Length, inOrder);
        int equal = Math.Min(la.Length, lb.Length);
        (la, lb) = (la[..equal], lb[..equal]);
        return new(a, b, common, order, [.. la.Select(i => Largest(inOrder[i]))], [.. lb.Select(i => Largest(inOrder[i]))],
            equal * inOrder.Max(i => i.InspectedAreaMm2 ?? i.InspectedPixels), Notes(equal, inOrder))
        {
            ReferenceLargestFields = la,
            CandidateLargestFields = [.. lb.Select(i => i - reference.Count)],
        };
    }

    private static SegmentationSettings Common(SegmentationSettings asked, IReadOnlyList<PictureResult> images) => asked with
    {
        Polarity = asked.Polarity ?? (images.Count(i => i.Settings.Polarity == Polarity.Dark) * 2 > images.Count ? Polarity.Dark : Polarity.Bright),
        SmoothingPx = asked.SmoothingPx ?? images.Max(i => i.Settings.SmoothingPx),
    };

    private static void Require(IReadOnlyList<PictureResult> images)
    {
        PictureResult first = images[0];
        foreach (PictureResult image in images)
        {
            if (image.Scale.MicrometresPerPixel is { } a != first.Scale.MicrometresPerPixel is { } || Math.Abs((image.Scale.MicrometresPerPixel ?? 1) / (first.Scale.MicrometresPerPixel ?? 1) - 1) > 0.001)
                throw new UnequalPicturesException(string.Create(CultureInfo.InvariantCulture,
                    $"{Path.GetFileName(image.File)} has {image.Scale.MicrometresPerPixel?.ToString("G5", CultureInfo.InvariantCulture) ?? "no"} micrometres per pixel, {Path.GetFileName(first.File)} {first.Scale.MicrometresPerPixel?.ToString("G5", CultureInfo.InvariantCulture) ?? "none"}; pictures of two heats are compared at one magnification."));
            long frame = image.InspectedPixels + image.LeftOutPixels, firstFrame = first.InspectedPixels + first.LeftOutPixels;
            if (Math.Abs((double)frame / firstFrame - 1) > MostDifference)
                throw new UnequalPicturesException(string.Create(CultureInfo.InvariantCulture,
                    $"{Path.GetFileName(image.File)} shows {frame} pixels, {Path.GetFileName(first.File)} {firstFrame}; fields must be of one size."));
        }
    }

    private static PictureFields Fields(PictureResult[] images, Func<string, string>? mountOf) => new(
        images,
        [.. images.Select(i => i.AreaFraction.Estimate)],
        [.. images.Select(i => i.PerAreaMm2 ?? i.PerPixel)],
        [.. images.Select(i => i.DiameterUm?.Mean ?? i.DiameterPx?.Mean ?? 0)],
        [.. images.Select(i => i.DiameterUm?.P95 ?? i.DiameterPx?.P95 ?? 0)],
        [.. images.Select(i => i.DiameterUm?.Largest ?? i.DiameterPx?.Largest ?? 0)],
        Pooling.Of(images, mountOf));

    /// <summary>Fields of a heat of the whole inspected area, in the shuffled order: one of which more is left out would show smaller largest particles for that reason alone.</summary>
    private static int[] Whole(int[] order, int from, int to, PictureResult[] images)
    {
        long most = images.Max(i => i.InspectedPixels);
        return [.. order.Where(i => i >= from && i < to && images[i].InspectedPixels >= (1 - MostDifference) * most)];
    }

    private static double Largest(PictureResult image) => image.DiameterUm?.Largest ?? image.DiameterPx?.Largest ?? 0;

    private static List<string> Notes(int equal, PictureResult[] images)
    {
        PictureResult first = images[0];
        List<string> notes = ["Fields are sub-samples: the interval of a difference holds for these mounts, not for other heats of the source."];
        if (2 * equal != images.Length) notes.Add(string.Create(CultureInfo.InvariantCulture, $"The largest particle is compared over {equal} fields of each heat of equal inspected area, drawn at random."));
        if (first.Scale.MicrometresPerPixel is null) notes.Add("The scale is not known: lengths are in pixels.");
        return notes;
    }
}

/// <summary>The fields of one heat, one value a field in the order given.</summary>
/// <param name="Images">The measured pictures.</param>
/// <param name="AreaFraction">Area fractions.</param>
/// <param name="PerArea">Particles per square millimetre (per pixel without a scale).</param>
/// <param name="MeanDiameter">Mean equivalent diameters in micrometres (pixels without a scale).</param>
/// <param name="P95Diameter">95th percentiles of the diameters.</param>
/// <param name="LargestDiameter">Largest diameters.</param>
/// <param name="Pooled">All fields together.</param>
public sealed record PictureFields(IReadOnlyList<PictureResult> Images, IReadOnlyList<double> AreaFraction, IReadOnlyList<double> PerArea,
    IReadOnlyList<double> MeanDiameter, IReadOnlyList<double> P95Diameter, IReadOnlyList<double> LargestDiameter, PooledResult Pooled)
{
    /// <summary>Index of the field with the median area fraction (the lower of the two middle ones).</summary>
    public int MedianField => Enumerable.Range(0, AreaFraction.Count).OrderBy(i => AreaFraction[i]).ElementAt((AreaFraction.Count - 1) / 2);

    /// <summary>Index of the field with the largest particle.</summary>
    public int WorstField => Enumerable.Range(0, LargestDiameter.Count).MaxBy(i => LargestDiameter[i]);
}

/// <summary>Pictures of two heats measured alike. Judging them is the caller's: the values of each field are the sample.</summary>
/// <param name="Reference">Fields of the reference heat.</param>
/// <param name="Candidate">Fields of the candidate heat.</param>
/// <param name="Settings">The settings common to all pictures.</param>
/// <param name="Order">Order in which the pictures were measured: indices into the reference pictures followed by the candidate's.</param>
/// <param name="ReferenceLargest">Largest particle of each of an equal number of fields, reference.</param>
/// <param name="CandidateLargest">Largest particle of each of an equal number of fields, candidate.</param>
/// <param name="EqualArea">Inspected area behind each of the two lists, square millimetres (pixels without a scale).</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record ComparedPictures(PictureFields Reference, PictureFields Candidate, SegmentationSettings Settings, IReadOnlyList<int> Order,
    IReadOnlyList<double> ReferenceLargest, IReadOnlyList<double> CandidateLargest, double EqualArea, IReadOnlyList<string> Notes)
{
    /// <summary>Indices of the reference fields behind <see cref="ReferenceLargest"/>.</summary>
    public IReadOnlyList<int> ReferenceLargestFields { get; init; } = [];

    /// <summary>Indices of the candidate fields behind <see cref="CandidateLargest"/>.</summary>
    public IReadOnlyList<int> CandidateLargestFields { get; init; } = [];
}

/// <summary>Pictures that cannot be compared; the message names the picture, what was found and what is needed.</summary>
/// <param name="message">The message.</param>
public sealed class UnequalPicturesException(string message) : Exception(message);
