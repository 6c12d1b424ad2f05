using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Imaging;

/// <summary>Particles of one or more pictures.</summary>
/// <param name="Images">One entry a picture, in the order given.</param>
/// <param name="Pooled">All pictures together, the pictures being the sample.</param>
/// <param name="Notes">What a reader must know before using the numbers.</param>
public sealed record MeasurementResult(IReadOnlyList<PictureResult> Images, PooledResult Pooled, IReadOnlyList<string> Notes);

/// <summary>Particles of one picture. Lengths are in micrometres where the scale is known; figures in pixels are always there.</summary>
public sealed record PictureResult
{
    /// <summary>The file as given.</summary>
    public required string File { get; init; }

    /// <summary>SHA-256 of the file.</summary>
    public required string Sha256 { get; init; }

    /// <summary>What the file says of itself.</summary>
    public required PictureMetadata Metadata { get; init; }

    /// <summary>Size of a pixel and how it is known.</summary>
    public required PictureScale Scale { get; init; }

    /// <summary>Data strip or scale bar found and left out, or null.</summary>
    public ScaleBarFound? ScaleBar { get; init; }

    /// <summary>Whether a data strip or scale bar was looked for.</summary>
    public bool ScaleBarSought { get; init; } = true;

    /// <summary>Pixels left out of the frame.</summary>
    public long LeftOutPixels { get; init; }

    /// <summary>Inspected area in pixels.</summary>
    public required long InspectedPixels { get; init; }

    /// <summary>Inspected area in square millimetres, or null without a scale.</summary>
    public double? InspectedAreaMm2 { get; init; }

    /// <summary>Area of particles over inspected area, with a 95 % interval from the scatter between sixteen parts of the picture.</summary>
    public required Interval AreaFraction { get; init; }

    /// <summary>Area fraction with the threshold one grey-level step higher and lower: how much the choice of threshold alone moves it.</summary>
    public required ThresholdBand ThresholdBand { get; init; }

    /// <summary>Particles, those cut by the frame included.</summary>
    public required int Count { get; init; }

    /// <summary>Particles not cut by the frame.</summary>
    public required int CountInside { get; init; }

    /// <summary>Particles per square millimetre, one cut by the frame counting one half; null without a scale.</summary>
    public double? PerAreaMm2 { get; init; }

    /// <summary>Particles per pixel of area, one cut by the frame counting one half.</summary>
    public required double PerPixel { get; init; }

    /// <summary>Equivalent diameters in micrometres of particles not cut, or null without a scale or particles.</summary>
    public SizeSummary? DiameterUm { get; init; }

    /// <summary>Equivalent diameters in pixels of particles not cut, or null without particles.</summary>
    public SizeSummary? DiameterPx { get; init; }

    /// <summary>Mean ratio of major to minor axis of particles not cut, or null without particles.</summary>
    public double? Aspect { get; init; }

    /// <summary>Clustering by nearest neighbours (distances in micrometres, or pixels without a scale); null with fewer than eight particles.</summary>
    public Clustering? Clustering { get; init; }

    /// <summary>Diameter of the smallest particle counted, in micrometres, or null without a scale.</summary>
    public double? MinimumDiameterUm { get; init; }

    /// <summary>Diameter of the smallest particle counted, in pixels.</summary>
    public required double MinimumDiameterPx { get; init; }

    /// <summary>Feature interceptions along rows and columns, for banding and mean free path; null for a picture measured by tiles.</summary>
    public Interceptions? Interceptions { get; init; }

    /// <summary>Table of the particles as a file, or null where none was asked for.</summary>
    public string? Particles { get; init; }

    /// <summary>The particles, numbered from 1 in raster order.</summary>
    public required IReadOnlyList<Particle> ParticleList { get; init; }

    /// <summary>The settings with every choice filled in; measuring again with them gives the same particles.</summary>
    public required SegmentationSettings Settings { get; init; }

    /// <summary>Thresholds that each rule would have chosen, by name.</summary>
    public required IReadOnlyDictionary<string, double> ThresholdCandidates { get; init; }

    /// <summary>Seconds spent on each stage.</summary>
    public required IReadOnlyDictionary<string, double> Seconds { get; init; }

    /// <summary>What a reader must know before using the numbers.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}

/// <summary>Area fraction with the threshold moved by one grey-level step (of 256).</summary>
/// <param name="Lower">Threshold one step towards the particles.</param>
/// <param name="Upper">Threshold one step towards the matrix.</param>
public sealed record ThresholdBand(double Lower, double Upper);

/// <summary>All pictures together; the pictures (fields) are the sample, not the particles.</summary>
public sealed record PooledResult
{
    /// <summary>Number of pictures.</summary>
    public required int Fields { get; init; }

    /// <summary>Inspected area in square millimetres, or null where a scale is missing.</summary>
    public double? InspectedAreaMm2 { get; init; }

    /// <summary>Mean area fraction with a 95 % interval from the scatter between fields (within the picture when there is one).</summary>
    public required Interval AreaFraction { get; init; }

    /// <summary>Area fraction over fields nested in mounts; null where mounts are not named or cannot be told apart from fields.</summary>
    public MountSummary? Mounts { get; init; }

    /// <summary>Percent relative accuracy of the area fraction, or null with one field.</summary>
    public double? RelativeAccuracyPercent { get; init; }

    /// <summary>Area fraction with the threshold one step higher and lower, mean over fields.</summary>
    public required ThresholdBand ThresholdBand { get; init; }

    /// <summary>Particles, those cut by a frame included.</summary>
    public required int Count { get; init; }

    /// <summary>Particles not cut by a frame.</summary>
    public required int CountInside { get; init; }

    /// <summary>Particles per square millimetre over all pictures, one cut by the frame counting one half; null where a scale is missing.</summary>
    public double? PerAreaMm2 { get; init; }

    /// <summary>Equivalent diameters in micrometres of all particles not cut, or null where a scale is missing.</summary>
    public SizeSummary? DiameterUm { get; init; }

    /// <summary>Mean ratio of major to minor axis, or null without particles.</summary>
    public double? Aspect { get; init; }

    /// <summary>Nearest-neighbour ratio, mean over the pictures that have one, or null.</summary>
    public double? ClusteringRatio { get; init; }

    /// <summary>Largest of the smallest diameters counted in any picture, in micrometres, or null where a scale is missing.</summary>
    public double? MinimumDiameterUm { get; init; }
}
