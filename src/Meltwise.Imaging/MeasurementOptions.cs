using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging;

/// <summary>What a measurement of pictures is asked to do. The same options apply to every picture of one call.</summary>
public sealed record MeasurementOptions
{
    /// <summary>Size of a pixel in micrometres; null to take it from the file or a scale bar.</summary>
    public double? MicrometresPerPixel { get; init; }

    /// <summary>Stated length of the scale bar in micrometres; its ends are <see cref="ScaleBarEnds"/>, or are looked for.</summary>
    public double? ScaleBarMicrometres { get; init; }

    /// <summary>Two points marked on the ends of the scale bar; null to look for the bar.</summary>
    public BarLine? ScaleBarEnds { get; init; }

    /// <summary>Whether a data strip or scale bar is looked for, left out of the inspected area, and read where nothing else gives the scale.</summary>
    public bool FindScaleBar { get; init; } = true;

    /// <summary>Which pictures lie on one mount: gives the name of the mount of a picture file; null when nothing is known of mounts.</summary>
    public Func<string, string>? MountOf { get; init; }

    /// <summary>How particles are told from the matrix.</summary>
    public SegmentationSettings Settings { get; init; } = new();

    /// <summary>Page of a multi-page file, from 0.</summary>
    public int Page { get; init; }

    /// <summary>Folder for one table of particles a picture; null to write none.</summary>
    public string? ParticlesFolder { get; init; }

    /// <summary>Whether each particle keeps its pixels, for drawing.</summary>
    public bool KeepMasks { get; init; }

    /// <summary>Side of a tile in pixels; 0 to choose. Does not change the result.</summary>
    public int TilePixels { get; init; }

    /// <summary>What a file may claim.</summary>
    public PictureLimits Limits { get; init; } = PictureLimits.Default;
}

/// <summary>How far a measurement is.</summary>
/// <param name="Picture">Picture being measured, from 0.</param>
/// <param name="Pictures">Number of pictures.</param>
/// <param name="File">Its file.</param>
/// <param name="Share">Share of the whole work done, 0 to 1.</param>
/// <param name="Stage">What is being done.</param>
public readonly record struct MeasurementProgress(int Picture, int Pictures, string File, double Share, string Stage);

/// <summary>How far the measurement of one picture is.</summary>
/// <param name="Stage">What is being done: <c>scale bar</c>, <c>classes</c>, <c>light and levels</c>, <c>particles</c> or <c>figures</c>.</param>
/// <param name="Share">Share of the work on the picture done, 0 to 1.</param>
public readonly record struct StageProgress(string Stage, double Share);
