using System.Globalization;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>How large a pixel is, and how that is known.</summary>
/// <param name="MicrometresPerPixel">Side of a pixel in micrometres, or null when not known: lengths are then in pixels only.</param>
/// <param name="Source">Where it comes from: given, the file's metadata, a scale bar of stated length, or unknown.</param>
/// <param name="RelativeUncertainty">Standard uncertainty of the scale relative to its value, from the reading of the bar; 0 where none is known.</param>
public sealed record PictureScale(double? MicrometresPerPixel, string Source, double RelativeUncertainty = 0)
{
    /// <summary>A scale that is not known.</summary>
    public static PictureScale Unknown { get; } = new(null, "unknown");

    /// <summary>What the file itself says, by its resolution tags or by the scale bar in the picture.</summary>
    public static PictureScale Of(MicrographFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return ScaleChoice.Make(file, new(), ScaleBarReader.Find(file.Grey), []);
    }

    /// <summary>A scale given by the user.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a positive finite number.</exception>
    public static PictureScale Given(double micrometresPerPixel) => micrometresPerPixel > 0 && double.IsFinite(micrometresPerPixel)
        ? new(micrometresPerPixel, "given")
        : throw new ArgumentOutOfRangeException(nameof(micrometresPerPixel), micrometresPerPixel, "A pixel has a positive size in micrometres.");

    /// <summary>A scale from a bar whose label was read by machine.</summary>
    public static PictureScale FromLabel(BarLabel label, BarLine line)
    {
        ArgumentNullException.ThrowIfNull(label);
        ArgumentNullException.ThrowIfNull(line);
        return FromBar(label.Micrometres, line.LengthPixels) with
        {
            Source = string.Create(CultureInfo.InvariantCulture, $"scale bar read by machine: {label.Text} over {line.LengthPixels:G6} pixels, confidence {label.Confidence:0.00}; look whether it is so"),
        };
    }

    /// <summary>A scale from a bar of stated length; each end of the bar lies anywhere within a pixel.</summary>
    /// <param name="barMicrometres">Length of the bar in micrometres.</param>
    /// <param name="barPixels">Length of the bar in pixels.</param>
    public static PictureScale FromBar(double barMicrometres, double barPixels) => barMicrometres > 0 && barPixels > 1
        ? new(barMicrometres / barPixels, string.Create(CultureInfo.InvariantCulture, $"scale bar: {barMicrometres:G6} micrometres over {barPixels:G6} pixels"),
            Math.Sqrt(1.0 / 6) / barPixels)
        : throw new ArgumentOutOfRangeException(nameof(barMicrometres), barMicrometres, "A scale bar has a positive length in micrometres and spans more than a pixel.");
}
