using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Classification;

/// <summary>Trains the classifier that the settings ask for, from the pictures their examples were marked on.</summary>
internal static class ClassifierTraining
{
    /// <summary>The classifier of a set of pictures, or null when no examples are marked.</summary>
    /// <exception cref="UnusableAreaException">Examples on a picture that is not in the set, or examples that do not say which.</exception>
    public static PixelClassifier? Of(IReadOnlyList<string> files, MeasurementOptions options, CancellationToken cancel)
    {
        SegmentationSettings settings = options.Settings;
        if (settings.Examples.Count == 0) return null;
        RequireClass(settings);
        if (files.Count > 1 && settings.Examples.Any(e => e.Picture is null))
            throw new UnusableAreaException("With several pictures each example must say by its digest which picture it was marked on.");
        List<(GreySource, IReadOnlyList<MarkedArea>)> marked = [];
        List<MicrographFile> open = [];
        try
        {
            HashSet<string> missing = [.. settings.Examples.Select(e => e.Picture).OfType<string>()];
            foreach (string path in files)
            {
                cancel.ThrowIfCancellationRequested();
                string digest = PictureReader.Digest(path);
                MarkedArea[] own = [.. settings.Examples.Where(e => e.Picture is null || e.Picture == digest)];
                if (own.Length == 0 || !missing.Remove(digest) && own.Any(e => e.Picture is not null)) continue;
                open.Add(PictureReader.Open(path, options.Page, options.Limits));
                marked.Add((open[^1].Grey, own));
            }
            if (missing.Count > 0) throw new UnusableAreaException($"Examples were marked on a picture of digest {missing.First()[..Math.Min(8, missing.First().Length)]}..., which is not among the pictures measured.");
            return PixelClassifier.Train(marked, cancel: cancel);
        }
        finally
        {
            foreach (MicrographFile file in open) file.Dispose();
        }
    }

    /// <summary>The classifier of one opened picture, or null when no examples are marked.</summary>
    /// <exception cref="UnusableAreaException">Examples on another picture, or fewer than two classes.</exception>
    public static PixelClassifier? Of(MicrographFile file, SegmentationSettings settings, CancellationToken cancel)
    {
        if (settings.Examples.Count == 0) return null;
        RequireClass(settings);
        if (settings.Examples.Any(e => e.Picture is not null && e.Picture != file.Sha256))
            throw new UnusableAreaException($"{Path.GetFileName(file.Path)}: examples were marked on another picture.");
        return PixelClassifier.Train(file.Grey, settings.Examples, cancel: cancel);
    }

    private static void RequireClass(SegmentationSettings settings)
    {
        if (settings.MeasuredClass is null || settings.Examples.All(e => e.Class != settings.MeasuredClass))
            throw new UnusableAreaException($"The class to measure is {settings.MeasuredClass ?? "not stated"}; marked are {string.Join(", ", settings.Examples.Select(e => e.Class).Distinct(StringComparer.Ordinal))}.");
    }
}
