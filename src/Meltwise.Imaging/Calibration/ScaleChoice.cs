using System.Globalization;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Chooses what gives the size of a pixel.</summary>
/// <remarks>
/// <para><b>Rule.</b> In this order: the size given; a bar of stated length between marked or found ends; the resolution tags of the file; the label of the bar as read.
/// Where tags and label differ by more than <see cref="MostDifference"/> neither is taken.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class ScaleChoice
{
    private const double MostDifference = 0.03;

    public static PictureScale Make(MicrographFile file, MeasurementOptions options, ScaleBarFound? bar, List<string> notes)
    {
        if (options.MicrometresPerPixel is { } given) return PictureScale.Given(given);
        if (options.ScaleBarMicrometres is { } length)
        {
            if ((options.ScaleBarEnds ?? bar?.Line) is { } line) return PictureScale.FromBar(length, line.LengthPixels);
            notes.Add("The scale bar was not found; mark its two ends or give the size of a pixel.");
        }
        double? tagged = file.Metadata.MicrometresPerPixel, read = bar?.MicrometresPerPixel;
        if (tagged is { } t && read is { } r && Math.Abs(r / t - 1) > MostDifference)
        {
            notes.Add(string.Create(CultureInfo.InvariantCulture,
                $"The resolution tags give {t:G5} micrometres per pixel, the scale bar, read as {bar!.Label!.Text}, {r:G5}: neither was taken. Give the size of a pixel. Lengths are in pixels."));
            return PictureScale.Unknown;
        }
        if (tagged is { } tag) return new(tag, read is null ? "resolution tags of the file" : $"resolution tags of the file; the scale bar, read as {bar!.Label!.Text}, agrees");
        if (read is not null) return PictureScale.FromLabel(bar!.Label!, bar.Line!);
        notes.Add(bar?.Line is null ? "The scale is not known: lengths are in pixels." : "A scale bar was found but its label could not be read: state its length. Lengths are in pixels.");
        return PictureScale.Unknown;
    }
}
