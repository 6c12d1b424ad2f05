using System.Globalization;
using Meltwise.Imaging;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Web.Pictures;

/// <summary>The settings of a measurement as the address carries them, so that a measurement can be repeated from its address alone.</summary>
/// <param name="Scale">Micrometres per pixel; empty takes the picture's own.</param>
/// <param name="Polarity">Bright or dark particles; empty chooses from the picture.</param>
/// <param name="Level">Threshold in grey levels; empty chooses from the picture.</param>
/// <param name="Minimum">Smallest particle in pixels of area.</param>
/// <param name="Neck">Sensitivity of parting touching particles, 0 to 1.</param>
internal sealed record PictureQuery(string? Scale = null, string? Polarity = null, string? Level = null, string? Minimum = null, string? Neck = null)
{
    /// <summary>Measures the picture.</summary>
    /// <exception cref="UnreadablePictureException">It is no readable picture.</exception>
    public PictureResult Measure(string path) => PictureMeasurement.Measure([path], Options()).Images[0];

    /// <summary>The settings as a query.</summary>
    public string Query() => string.Join('&', new[] { ("scale", Scale), ("polarity", Polarity), ("level", Level), ("minimum", Minimum), ("neck", Neck) }
        .Where(p => !string.IsNullOrWhiteSpace(p.Item2)).Select(p => $"{p.Item1}={Uri.EscapeDataString(p.Item2!)}"));

    private MeasurementOptions Options()
    {
        double? level = Number(Level, 0, 255);
        SegmentationSettings usual = new();
        return new()
        {
            MicrometresPerPixel = Number(Scale, 1e-6, 1e4),
            Settings = usual with
            {
                Polarity = Polarity switch { "bright" => Imaging.Segmentation.Polarity.Bright, "dark" => Imaging.Segmentation.Polarity.Dark, _ => null },
                Rule = level is null ? usual.Rule : ThresholdRule.Fixed,
                Level = level,
                MinimumAreaPx = (int)(Number(Minimum, 1, 1e6) ?? usual.MinimumAreaPx),
                SplitNeck = Number(Neck, 0, 1) ?? usual.SplitNeck,
            },
        };
    }

    private static double? Number(string? text, double low, double high) =>
        double.TryParse((text ?? "").Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double v) && v >= low && v <= high ? v : null;
}
