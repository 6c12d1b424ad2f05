using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Web.Pictures;

/// <summary>A part of a large picture measured in full, so that a change of settings is answered at once where the person looks: shrunk, small particles would be lost.</summary>
/// <remarks>Levels and light are decided on the part alone, so its figures are near those of the whole picture and not the same.</remarks>
internal static class PartPreview
{
    /// <summary>Most pixels of a part.</summary>
    public const long MostPixels = 1_200_000;

    /// <summary>The middle of a view that is small enough.</summary>
    public static PixelBox MiddleOf(PixelBox view)
    {
        double shrink = Math.Min(1, Math.Sqrt((double)MostPixels / Math.Max(1, view.Area)));
        int width = Math.Max(1, (int)(view.Width * shrink)), height = Math.Max(1, (int)(view.Height * shrink));
        return new(view.X + ((view.Width - width) / 2), view.Y + ((view.Height - height) / 2), width, height);
    }

    /// <summary>Cuts the part out of an opened picture.</summary>
    public static MicrographFile Cut(MicrographFile file, PixelBox part)
    {
        var grey = new float[part.Area];
        file.Grey.Read(part, grey);
        return file with { Grey = new GreyPicture(part.Width, part.Height, grey), Metadata = file.Metadata with { Width = part.Width, Height = part.Height } };
    }

    /// <summary>Measures the part with settings meant for the whole picture.</summary>
    /// <param name="cut">The part.</param>
    /// <param name="part">Where it lies in the picture.</param>
    /// <param name="options">What to do, in pixels of the whole picture; examples of classes outside of the part cannot be used.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableAreaException">The areas left out cover the part, or the examples that lie in it cannot be used.</exception>
    public static PictureResult Measure(MicrographFile cut, PixelBox part, MeasurementOptions options, CancellationToken cancel) => PictureMeasurement.Measure(cut, options with
    {
        FindScaleBar = false,
        ScaleBarEnds = null,
        ScaleBarMicrometres = null,
        Settings = options.Settings with
        {
            LeftOut = [.. options.Settings.LeftOut.Select(a => a with { Corners = [.. a.Corners.Select(c => new PixelPoint(c.X - part.X, c.Y - part.Y))] })],
            Examples = [.. options.Settings.Examples.Select(e => e with { Area = new PixelBox(e.Area.X - part.X, e.Area.Y - part.Y, e.Area.Width, e.Area.Height) })],
        },
    }, cancel: cancel);
}
