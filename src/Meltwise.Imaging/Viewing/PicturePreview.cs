using System.Globalization;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Classification;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Viewing;

/// <summary>A picture shrunk by a whole factor and kept, so that a change of settings is answered at once; the full measurement follows.</summary>
/// <remarks>
/// <para><b>Formula.</b> Each pixel of the preview is the mean of factor x factor pixels of the picture. Areas, examples and the smallest particle are shrunk alike; levels are not.</para>
/// <para><b>Limits.</b> Particles less than about three preview pixels across are lost or run together: a preview shows the effect of a setting, its numbers are not to be reported.</para>
/// </remarks>
public sealed class PicturePreview
{
    /// <summary>Most pixels of a preview unless asked otherwise.</summary>
    public const long UsualPixels = 1_500_000;

    private readonly MicrographFile _file;
    private readonly ScaleBarFound? _bar;

    private PicturePreview(int factor, MicrographFile file, ScaleBarFound? bar) => (Factor, _file, _bar) = (factor, file, bar);

    /// <summary>Pixels of the picture along a pixel of the preview; 1 when the picture is small enough to be measured in full.</summary>
    public int Factor { get; }

    /// <summary>Width of the preview in its own pixels.</summary>
    public int Width => _file.Grey.Width;

    /// <summary>Height of the preview in its own pixels.</summary>
    public int Height => _file.Grey.Height;

    /// <summary>Shrinks a picture; the file may be closed afterwards.</summary>
    /// <param name="file">The opened picture.</param>
    /// <param name="mostPixels">Most pixels of the preview.</param>
    /// <param name="cancel">Stops the work.</param>
    public static PicturePreview Of(MicrographFile file, long mostPixels = UsualPixels, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentOutOfRangeException.ThrowIfLessThan(mostPixels, 1);
        int factor = Math.Max(1, (int)Math.Ceiling(Math.Sqrt((double)file.Grey.Frame.Area / mostPixels)));
        factor = Math.Min(factor, Math.Min(file.Grey.Width, file.Grey.Height));
        GreyPicture small = Shrink(file.Grey, factor, cancel);
        PictureMetadata metadata = file.Metadata with { Width = small.Width, Height = small.Height, MicrometresPerPixel = file.Metadata.MicrometresPerPixel * factor };
        return new(factor, file with { Metadata = metadata, Grey = small }, ScaleBarReader.Find(file.Grey));
    }

    /// <summary>Measures the preview with settings meant for the whole picture.</summary>
    /// <param name="options">What to do, in pixels of the whole picture.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <returns>The result in pixels of the preview; its settings are in pixels of the whole picture, with the choices made on the preview.</returns>
    /// <exception cref="UnusableAreaException">The areas marked as examples cannot be used.</exception>
    public PreviewResult Measure(MeasurementOptions? options = null, CancellationToken cancel = default)
    {
        options ??= new();
        List<string> notes = [];
        PictureScale scale = ScaleChoice.Make(_file with { Metadata = _file.Metadata with { MicrometresPerPixel = _file.Metadata.MicrometresPerPixel / Factor } }, options, _bar, notes);
        SegmentationSettings asked = options.Settings;
        SegmentationSettings shrunk = asked with
        {
            SmoothingPx = asked.SmoothingPx / Factor,
            MinimumAreaPx = Math.Max(1, asked.MinimumAreaPx / (Factor * Factor)),
            LeftOut = [.. Areas(asked, options.FindScaleBar)],
            Examples = [.. asked.Examples.Select(e => e with { Area = Shrunk(e.Area) })],
        };
        PictureResult result = PictureMeasurement.Measure(_file, options with { MicrometresPerPixel = scale.MicrometresPerPixel * Factor, ScaleBarMicrometres = null, ScaleBarEnds = null, FindScaleBar = false, ParticlesFolder = null, Settings = shrunk }, null, cancel);
        string said = Factor == 1 ? "The picture is small enough to be measured in full."
            : string.Create(CultureInfo.InvariantCulture, $"Preview: the picture was shrunk {Factor} times; its numbers are not those of the picture.");
        return new(Factor, result with
        {
            Scale = scale with { MicrometresPerPixel = scale.MicrometresPerPixel * Factor },
            ScaleBar = _bar,
            Settings = asked with { Polarity = result.Settings.Polarity, Level = result.Settings.Level, SmoothingPx = asked.SmoothingPx ?? result.Settings.SmoothingPx * Factor },
            Notes = [said, .. notes, .. result.Notes],
        });
    }

    private IEnumerable<LeftOutArea> Areas(SegmentationSettings asked, bool findBar)
    {
        double f = Factor;
        foreach (LeftOutArea area in asked.LeftOut) yield return area with { Corners = [.. area.Corners.Select(c => new PixelPoint(c.X / f, c.Y / f))] };
        if (findBar && _bar is { } bar) yield return LeftOutArea.Rectangle(Shrunk(bar.Area).Grow(1, _file.Grey.Frame), "scale bar");
    }

    private PixelBox Shrunk(PixelBox box)
    {
        int x = Math.Min(box.X / Factor, Width - 1), y = Math.Min(box.Y / Factor, Height - 1);
        return new(x, y, Math.Clamp(box.Width / Factor, 1, Width - x), Math.Clamp(box.Height / Factor, 1, Height - y));
    }

    private static GreyPicture Shrink(GreySource source, int factor, CancellationToken cancel)
    {
        int width = source.Width / factor, height = source.Height / factor;
        var small = new float[width * height];
        var lines = new float[(long)source.Width * factor];
        for (int y = 0; y < height; y++)
        {
            cancel.ThrowIfCancellationRequested();
            source.Read(new PixelBox(0, y * factor, source.Width, factor), lines);
            for (int x = 0; x < width; x++) small[y * width + x] = Mean(lines, source.Width, x * factor, factor);
        }
        return new GreyPicture(width, height, small);
    }

    private static float Mean(float[] lines, int width, int x, int factor)
    {
        double sum = 0;
        for (int j = 0; j < factor; j++)
            for (int i = 0; i < factor; i++) sum += lines[j * width + x + i];
        return (float)(sum / (factor * factor));
    }
}

/// <summary>A measurement of a preview.</summary>
/// <param name="Factor">Pixels of the picture along a pixel of the preview: multiply places by it to draw on the picture.</param>
/// <param name="Result">The result; places and sizes in pixels of the preview, lengths in micrometres as they are.</param>
public sealed record PreviewResult(int Factor, PictureResult Result);
