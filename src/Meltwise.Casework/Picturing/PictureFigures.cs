using Meltwise.Imaging;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Casework.Picturing;

/// <summary>The figures of one measured picture, as they are kept. Particles are not among them: the settings find them again.</summary>
public sealed record PictureFigures
{
    /// <summary>Area of particles over inspected area.</summary>
    public required double AreaFraction { get; init; }

    /// <summary>Lower limit of its 95 % interval within the picture; null where none can be given.</summary>
    public double? AreaFractionLower { get; init; }

    /// <summary>Upper limit.</summary>
    public double? AreaFractionUpper { get; init; }

    /// <summary>Area fraction with the threshold one grey level higher.</summary>
    public required double OneStepUp { get; init; }

    /// <summary>Area fraction with the threshold one grey level lower.</summary>
    public required double OneStepDown { get; init; }

    /// <summary>Particles, those cut by the frame included.</summary>
    public required int Count { get; init; }

    /// <summary>Particles not cut by the frame.</summary>
    public required int CountInside { get; init; }

    /// <summary>Particles per square millimetre; null without a scale.</summary>
    public double? PerAreaMm2 { get; init; }

    /// <summary>Inspected area in pixels.</summary>
    public required long InspectedPixels { get; init; }

    /// <summary>Inspected area in square millimetres; null without a scale.</summary>
    public double? InspectedAreaMm2 { get; init; }

    /// <summary>Equivalent diameters in micrometres; null without a scale or particles.</summary>
    public SizeSummary? DiameterUm { get; init; }

    /// <summary>Equivalent diameters in pixels; null without particles.</summary>
    public SizeSummary? DiameterPx { get; init; }

    /// <summary>Mean aspect; null without particles.</summary>
    public double? Aspect { get; init; }

    /// <summary>Nearest-neighbour ratio; null with few particles.</summary>
    public double? ClusteringRatio { get; init; }

    /// <summary>Diameter of the smallest particle counted, in pixels.</summary>
    public required double MinimumDiameterPx { get; init; }

    /// <summary>What a reader must know.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Whether all figures are the same; notes tell how they came about and may differ when settings are replayed.</summary>
    public bool IsSameAs(PictureFigures other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return this with { Notes = [] } == other with { Notes = [] };
    }

    /// <summary>The figures of a result.</summary>
    public static PictureFigures Of(PictureResult result) => new()
    {
        AreaFraction = result.AreaFraction.Estimate,
        AreaFractionLower = result.AreaFraction.Lower,
        AreaFractionUpper = result.AreaFraction.Upper,
        OneStepUp = result.ThresholdBand.Lower,
        OneStepDown = result.ThresholdBand.Upper,
        Count = result.Count,
        CountInside = result.CountInside,
        PerAreaMm2 = result.PerAreaMm2,
        InspectedPixels = result.InspectedPixels,
        InspectedAreaMm2 = result.InspectedAreaMm2,
        DiameterUm = result.DiameterUm,
        DiameterPx = result.DiameterPx,
        Aspect = result.Aspect,
        ClusteringRatio = result.Clustering?.Ratio,
        MinimumDiameterPx = result.MinimumDiameterPx,
        Notes = result.Notes,
    };
}
