using System.Diagnostics;
using System.Globalization;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Classification;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Imaging;

/// <summary>Measures the particles of micrographs: from files to numbers, in one call.</summary>
/// <remarks>The result does not depend on tiles, threads or the run, to the bit; a picture turned by a quarter turn gives the same particles up to the sub-pixel rounding stated in docs/methods/ParticleMeasures.md.</remarks>
public static class PictureMeasurement
{
    private const int LeastSide = 16;

    /// <summary>Measures pictures with the same options and pools them, the pictures being the fields.</summary>
    /// <param name="files">Picture files, at least one.</param>
    /// <param name="options">What to do; the defaults choose everything from each picture.</param>
    /// <param name="progress">Told how far the work is, on the thread that does it.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnreadablePictureException">A file is not a readable picture.</exception>
    /// <exception cref="UnusableAreaException">The areas marked as examples cannot be used.</exception>
    /// <exception cref="ArgumentException">No files.</exception>
    public static MeasurementResult Measure(IReadOnlyList<string> files, MeasurementOptions? options = null, IProgress<MeasurementProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(files);
        if (files.Count == 0) throw new ArgumentException("A measurement needs at least one picture.", nameof(files));
        options ??= new();
        PixelClassifier? classifier = ClassifierTraining.Of(files, options, cancel);
        List<PictureResult> images = [];
        for (int i = 0; i < files.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            int at = i;
            progress?.Report(new(at, files.Count, files[at], (double)at / files.Count, "reading"));
            Stages stages = new(s => progress?.Report(new(at, files.Count, files[at], (at + s.Share) / files.Count, s.Stage)));
            using MicrographFile file = PictureReader.Open(files[i], options.Page, options.Limits);
            PictureResult result = Measure(file, options, classifier, stages, cancel);
            images.Add(options.ParticlesFolder is { } folder ? result with { Particles = WriteTable(folder, result, i) } : result);
        }
        progress?.Report(new(files.Count - 1, files.Count, files[^1], 1, "figures"));
        return new(images, Pooling.Of(images, options.MountOf), Pooling.Notes(images, options.MountOf));
    }

    /// <summary>Measures one opened picture; examples of classes must be marked on it.</summary>
    /// <param name="file">The picture.</param>
    /// <param name="options">What to do.</param>
    /// <param name="progress">Told the stage and the share done.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableAreaException">The areas marked as examples cannot be used.</exception>
    public static PictureResult Measure(MicrographFile file, MeasurementOptions? options = null, IProgress<StageProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(file);
        options ??= new();
        return Measure(file, options, ClassifierTraining.Of(file, options.Settings, cancel), progress, cancel);
    }

    private static PictureResult Measure(MicrographFile file, MeasurementOptions options, PixelClassifier? classifier, IProgress<StageProgress>? progress, CancellationToken cancel)
    {
        if (Math.Min(file.Grey.Width, file.Grey.Height) < LeastSide)
            throw new UnreadablePictureException(file.Path, string.Create(CultureInfo.InvariantCulture, $"{file.Grey.Width} x {file.Grey.Height} pixels"), string.Create(CultureInfo.InvariantCulture, $"at least {LeastSide} pixels each way"));
        Stopwatch watch = Stopwatch.StartNew();
        List<string> notes = [.. file.Metadata.Notes];
        progress?.Report(new("scale bar", 0));
        ScaleBarFound? bar = options.FindScaleBar || (options.ScaleBarMicrometres is not null && options.ScaleBarEnds is null) ? ScaleBarReader.Find(file.Grey) : null;
        PictureScale scale = ScaleChoice.Make(file, options, bar, notes);
        (PixelBox inspected, SegmentationSettings settings) = InspectedPart.Of(file, bar, options.Settings, notes);
        double prepared = watch.Elapsed.TotalSeconds;
        GreySource grey = Levels(file.Grey, classifier, settings, notes, progress, cancel);
        double classified = watch.Elapsed.TotalSeconds;
        progress?.Report(new("light and levels", 0.2));
        SegmentationPlan plan = SegmentationPlan.For(grey, inspected, settings, cancel);
        double planned = watch.Elapsed.TotalSeconds;
        // The pixels of every particle of a very large picture would not fit beside it.
        bool large = inspected.Area > PictureSegmentation.MaxWindowPixels;
        if (large) notes.Add("The picture was measured by tiles; interceptions, which need every pixel at once, were not counted.");
        SegmentedPicture picture = PictureSegmentation.Run(grey, plan, keepMasks: !large || options.KeepMasks, options.TilePixels, new Shares(s => progress?.Report(new("particles", 0.4 + 0.54 * s))), cancel);
        notes.AddRange(plan.Notes);
        notes.AddRange(picture.Notes);
        double segmented = watch.Elapsed.TotalSeconds;
        progress?.Report(new("figures", 0.95));
        Dictionary<string, double> seconds = new() { ["scale bar"] = prepared, ["classes"] = classified - prepared, ["levels"] = planned - classified, ["particles"] = segmented - planned };
        return Summary.Of(file, picture, scale, bar, options.KeepMasks, notes, seconds) with { ScaleBarSought = options.FindScaleBar };
    }

    /// <summary>The picture itself, or the likelihood of the class measured.</summary>
    private static GreySource Levels(GreySource grey, PixelClassifier? classifier, SegmentationSettings settings, List<string> notes, IProgress<StageProgress>? progress, CancellationToken cancel)
    {
        if (classifier is null) return grey;
        progress?.Report(new("classes", 0.05));
        notes.Add(string.Create(CultureInfo.InvariantCulture,
            $"Particles are the class {settings.MeasuredClass} as told from {settings.Examples.Count} areas marked as {string.Join(", ", classifier.Classes)}; of marked pixels left out of the training {100 * classifier.MarkedAccuracy:0} % were told right, which is optimistic."));
        return classifier.Likelihood(grey, settings.MeasuredClass!, cancel);
    }

    private static string WriteTable(string folder, PictureResult result, int index)
    {
        Directory.CreateDirectory(folder);
        string path = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(result.File)}-{index + 1}-particles.csv"));
        using StreamWriter writer = new(path);
        ParticleTable.Write(writer, result.ParticleList, result.Scale.MicrometresPerPixel);
        return path;
    }

    /// <summary>Reports on the calling thread; <see cref="Progress{T}"/> would report later and out of order.</summary>
    private sealed class Stages(Action<StageProgress> report) : IProgress<StageProgress>
    {
        public void Report(StageProgress value) => report(value);
    }

    private sealed class Shares(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }
}
