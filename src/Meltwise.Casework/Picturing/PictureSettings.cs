using Meltwise.Imaging;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Casework.Picturing;

/// <summary>All that a measurement of a picture was told, so that it can be made again. Null and empty mean chosen from the picture.</summary>
public sealed record PictureSettings
{
    /// <summary>Size of a pixel in micrometres; null to take it from the file or the scale bar.</summary>
    public double? MicrometresPerPixel { get; init; }

    /// <summary>Where that scale comes from.</summary>
    public string? ScaleSource { get; init; }

    /// <summary>How particles are told from the matrix, what is left out, which areas are examples.</summary>
    public SegmentationSettings Segmentation { get; init; } = new();

    /// <summary>As the measurement takes it.</summary>
    /// <param name="keepMasks">Whether each particle keeps its pixels, for drawing.</param>
    public MeasurementOptions Options(bool keepMasks = false) => new() { MicrometresPerPixel = MicrometresPerPixel, Settings = Segmentation, KeepMasks = keepMasks };

    /// <summary>The settings of a result, every choice filled in: measuring with them gives the same particles.</summary>
    public static PictureSettings Of(PictureResult result, string? scaleSource) => new()
    {
        MicrometresPerPixel = result.Scale.MicrometresPerPixel,
        ScaleSource = scaleSource ?? result.Scale.Source,
        Segmentation = result.Settings,
    };
}
