using System.Diagnostics;
using System.Globalization;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Imaging;

/// <summary>Measures the particles of micrographs: from files to numbers, in one call.</summary>
/// <remarks>The result does not depend on tiles or threads, and a picture turned by a quarter turn gives the same particles up to the sub-pixel rounding stated in docs/methods/ParticleMeasures.md.</remarks>
public static class PictureMeasurement
{
    /// <summary>Measures pictures with the same options and pools them, the pictures being the fields.</summary>
    /// <param name="files">Picture files, at least one.</param>
    /// <param name="options">What to do; the defaults choose everything from each picture.</param>
    /// <param name="progress">Told how far the work is.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnreadablePictureException">A file is not a readable picture.</exception>
    /// <exception cref="ArgumentException">No files.</exception>
    public static MeasurementResult Measure(IReadOnlyList<string> files, MeasurementOptions? options = null, IProgress<MeasurementProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(files);
        if (files.Count == 0) throw new ArgumentException("A measurement needs at least one picture.", nameof(files));
        options ??= new();
        List<PictureResult> images = [];
        for (int i = 0; i < files.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            int at = i;
            progress?.Report(new(at, files.Count, files[at], (double)at / files.Count));
            Share share = new(s => progress?.Report(new(at, files.Count, files[at], (at + s) / files.Count)));
            using MicrographFile file = PictureReader.Open(files[i], options.Page, options.Limits);
            PictureResult result = Measure(file, options, share, cancel);
            images.Add(options.ParticlesFolder is { } folder ? result with { Particles = WriteTable(folder, result, i) } : result);
        }
        progress?.Report(new(files.Count - 1, files.Count, files[^1], 1));
        return new(images, Pooling.Of(images), Pooling.Notes(images));
    }

    /// <summary>Measures one opened picture.</summary>
    /// <param name="file">The picture.</param>
    /// <param name="options">What to do.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancel">Stops the work.</param>
    public static PictureResult Measure(MicrographFile file, MeasurementOptions? options = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(file);
        options ??= new();
        Stopwatch watch = Stopwatch.StartNew();
        List<string> notes = [.. file.Metadata.Notes];
        ScaleBar? bar = options.FindScaleBar || options.ScaleBarMicrometres is not null ? ScaleBarFinder.Find(file.Grey) : null;
        PictureScale scale = Scale(file, options, bar, notes);
        (PixelBox inspected, SegmentationSettings settings) = Inspected(file.Grey, bar, options.Settings, notes);
        double prepared = watch.Elapsed.TotalSeconds;
        SegmentationPlan plan = SegmentationPlan.For(file.Grey, inspected, settings, cancel);
        double planned = watch.Elapsed.TotalSeconds;
        // The pixels of every particle of a very large picture would not fit beside it.
        bool large = inspected.Area > PictureSegmentation.MaxWindowPixels;
        if (large) notes.Add("The picture was measured by tiles; interceptions, which need every pixel at once, were not counted.");
        SegmentedPicture picture = PictureSegmentation.Run(file.Grey, plan, keepMasks: !large || options.KeepMasks, options.TilePixels, progress, cancel);
        notes.AddRange(plan.Notes);
        notes.AddRange(picture.Notes);
        Dictionary<string, double> seconds = new()
        { ["scale bar"] = prepared, ["levels"] = planned - prepared, ["particles"] = watch.Elapsed.TotalSeconds - planned };
        return Summary.Of(file, picture, scale, bar, options.KeepMasks, notes, seconds);
    }

    private static PictureScale Scale(MicrographFile file, MeasurementOptions options, ScaleBar? bar, List<string> notes)
    {
        if (options.MicrometresPerPixel is { } given) return PictureScale.Given(given);
        if (options.ScaleBarMicrometres is { } length)
        {
            if (bar?.BarPixels is { } pixels) return PictureScale.FromBar(length, pixels);
            notes.Add("The scale bar was not found; give the size of a pixel instead.");
        }
        if (file.Metadata.MicrometresPerPixel is { } tagged) return new(tagged, "resolution tags of the file");
        notes.Add("The scale is not known: lengths are in pixels.");
        return PictureScale.Unknown;
    }

    private static (PixelBox Inspected, SegmentationSettings Settings) Inspected(GreySource grey, ScaleBar? bar, SegmentationSettings settings, List<string> notes)
    {
        if (bar is null) return (grey.Frame, settings);
        string place = string.Create(CultureInfo.InvariantCulture, $"columns {bar.Area.X}-{bar.Area.Right - 1}, rows {bar.Area.Y}-{bar.Area.Bottom - 1}");
        if (!bar.FullWidth)
        {
            notes.Add($"A scale bar was found and left out: {place}.");
            return (grey.Frame, settings with { Excluded = [.. settings.Excluded, bar.Area] });
        }
        notes.Add($"A data strip was found and left out: {place}.");
        PixelBox inspected = bar.Area.Y == 0 ? new(0, bar.Area.Bottom, grey.Width, grey.Height - bar.Area.Height) : new(0, 0, grey.Width, bar.Area.Y);
        return (inspected, settings);
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
    private sealed class Share(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }
}
