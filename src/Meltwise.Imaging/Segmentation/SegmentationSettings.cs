using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Classification;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Whether particles are brighter or darker than the matrix.</summary>
public enum Polarity
{
    /// <summary>Brighter than the matrix.</summary>
    Bright,

    /// <summary>Darker than the matrix.</summary>
    Dark,
}

/// <summary>How the grey level between matrix and particles is chosen.</summary>
public enum ThresholdRule
{
    /// <summary>Midway between the median level of the matrix and of the particle cores: see <see cref="HalfContrastThreshold"/>.</summary>
    HalfContrast,

    /// <summary>See <see cref="OtsuThreshold"/>.</summary>
    Otsu,

    /// <summary>See <see cref="MinimumErrorThreshold"/>.</summary>
    MinimumError,

    /// <summary>See <see cref="TriangleThreshold"/>.</summary>
    Triangle,

    /// <summary>See <see cref="LocalThreshold"/>.</summary>
    Local,

    /// <summary>A level given by the user.</summary>
    Fixed,
}

/// <summary>Every choice that turns a picture into particles. Null means chosen from the picture; a result holds the settings with every choice filled in, and measuring with those again gives the same particles.</summary>
public sealed record SegmentationSettings
{
    /// <summary>Brighter or darker particles.</summary>
    public Polarity? Polarity { get; init; }

    /// <summary>Whether uneven light is taken out.</summary>
    public bool Flatten { get; init; } = true;

    /// <summary>Side of the square of the median filter in pixels, odd; 1 for none. With a median filter no smoothing is added unless <see cref="SmoothingPx"/> asks for it. See <see cref="MedianFilter"/>.</summary>
    public int MedianPx { get; init; } = 1;

    /// <summary>Standard deviation of the smoothing, in pixels; 0 for none.</summary>
    public double? SmoothingPx { get; init; }

    /// <summary>How the threshold is chosen.</summary>
    public ThresholdRule Rule { get; init; } = ThresholdRule.HalfContrast;

    /// <summary>Whether the triangle rule may take the place of <see cref="ThresholdRule.HalfContrast"/> where the grey levels form one mode: see <see cref="SingleModeRule"/> and what it was shaped on.</summary>
    public bool SingleMode { get; init; } = true;

    /// <summary>Threshold in 8-bit grey levels of the flattened picture (of its negative when particles are dark).</summary>
    public double? Level { get; init; }

    /// <summary>Lower level down to which a particle is followed once part of it is above <see cref="Level"/>, as a share of the way from the matrix to the threshold (1 = no hysteresis).</summary>
    public double HysteresisShare { get; init; } = 1;

    /// <summary>Whether matrix-coloured spots inside a particle, no larger than the particle, belong to it.</summary>
    public bool FillHoles { get; init; } = true;

    /// <summary>Whether touching particles are parted.</summary>
    public bool Split { get; init; } = true;

    /// <summary>Sensitivity of parting: two bodies are parted when the neck between them is narrower than this share of the smaller body. 0 never parts, 1 parts at every waist.</summary>
    public double SplitNeck { get; init; } = 0.7;

    /// <summary>Smallest particle kept, in pixels of area.</summary>
    public int MinimumAreaPx { get; init; } = 9;

    /// <summary>Whether long thin straight features (polishing scratches) are left out.</summary>
    public bool RemoveScratches { get; init; }

    /// <summary>Number of particle classes by grey level, 1 to 4; see <see cref="Particles.Particle.GreyClass"/>.</summary>
    public int GreyClasses { get; init; } = 1;

    /// <summary>Areas left out of the inspected area, such as a scale bar or a damaged spot, each with its reason.</summary>
    public IReadOnlyList<LeftOutArea> LeftOut { get; init; } = [];

    /// <summary>Areas marked as examples of classes; with two classes or more the particles are those of <see cref="MeasuredClass"/> as the <see cref="PixelClassifier"/> tells them. Empty to tell them by grey level.</summary>
    public IReadOnlyList<MarkedArea> Examples { get; init; } = [];

    /// <summary>Class of the examples that is measured.</summary>
    public string? MeasuredClass { get; init; }

    /// <summary>What is wrong with the settings, or null: for settings that come from outside.</summary>
    public (string Found, string Expected)? Fault()
    {
        if (MedianPx is < 1 or > MostMedian || MedianPx % 2 == 0) return (Text($"medianPx {MedianPx}"), Text($"an odd number, 1 to {MostMedian}"));
        if (SmoothingPx is { } s && !(s is >= 0 and <= MostSmoothing)) return (Text($"smoothingPx {s}"), Text($"0 to {MostSmoothing}"));
        if (Level is { } level && !(Math.Abs(level) <= MostLevel)) return (Text($"level {level}"), Text($"-{MostLevel} to {MostLevel}"));
        if (Rule == ThresholdRule.Fixed && Level is null && Examples.Count == 0) return ("rule fixed without a level", "a level");
        if (!(HysteresisShare is > 0 and <= 1)) return (Text($"hysteresisShare {HysteresisShare}"), "above 0, at most 1");
        if (!(SplitNeck is >= 0 and <= 1)) return (Text($"splitNeck {SplitNeck}"), "0 to 1");
        if (MinimumAreaPx < 1) return (Text($"minimumAreaPx {MinimumAreaPx}"), "1 or more");
        if (GreyClasses is < 1 or > MostClasses) return (Text($"greyClasses {GreyClasses}"), Text($"1 to {MostClasses}"));
        if (LeftOut is null || LeftOut.Any(a => a?.Corners is null || a.Corners.Count < 3 || string.IsNullOrWhiteSpace(a.Reason))) return ("an area left out without corners or reason", "at least three corners and a reason");
        return Examples is null || Examples.Any(e => string.IsNullOrWhiteSpace(e?.Class)) ? ("an example without a class", "a class for each example") : null;
    }

    private const double MostSmoothing = 20, MostLevel = 1000;
    private const int MostClasses = 4, MostMedian = 51;

    private static string Text(FormattableString text) => text.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
