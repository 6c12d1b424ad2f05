using System.Globalization;
using System.Numerics.Tensors;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Everything decided about a picture before its particles are taken out: settings with every choice made, shading, levels, noise and blur.</summary>
/// <remarks>Made once from samples of the whole picture, then applied to every window of it, so that the result does not depend on the windows.</remarks>
public sealed class SegmentationPlan
{
    private const double LeastContrast = 4;

    internal SegmentationPlan(SegmentationSettings settings, PixelBox inspected, ShadingSurface? shading, LeftOutMask leftOut) =>
        (Settings, Inspected, Shading, LeftOut) = (settings, inspected, shading, leftOut);

    /// <summary>The settings with every choice filled in.</summary>
    public SegmentationSettings Settings { get; internal set; }

    /// <summary>The part of the picture that is inspected (without a data strip).</summary>
    public PixelBox Inspected { get; }

    /// <summary>The pixels left out within the inspected part.</summary>
    public LeftOutMask LeftOut { get; }

    /// <summary>The uneven light taken out, or null.</summary>
    public ShadingSurface? Shading { get; }

    /// <summary>Median grey level of the matrix after flattening (of the negative for dark particles), in 8-bit steps.</summary>
    public double MatrixLevel { get; internal set; }

    /// <summary>Median grey level of the particle cores, likewise.</summary>
    public double ParticleLevel { get; internal set; }

    /// <summary>Noise of the picture as read, in 8-bit steps.</summary>
    public double Noise { get; internal set; }

    /// <summary>Blur of the edges after smoothing, in pixels.</summary>
    public double BlurPx { get; internal set; }

    /// <summary>Thresholds that each rule would have chosen, by name, in 8-bit steps.</summary>
    public IReadOnlyDictionary<string, double> Candidates { get; internal set; } = new Dictionary<string, double>();

    /// <summary>What a reader of the result must know.</summary>
    public IReadOnlyList<string> Notes { get; internal set; } = [];

    /// <summary>Pixels around a window that its pixels draw from.</summary>
    internal int Reach => Settings.MedianPx / 2 + GaussianSmoothing.Reach(Settings.SmoothingPx ?? 0) + (Settings.Rule == ThresholdRule.Local ? LocalThreshold.Reach : 0);

    /// <summary>Smallest mask worth measuring: the mask of a particle of the smallest area kept is smaller by what blur takes off.</summary>
    internal int LeastMask => Math.Max(1, (int)(Settings.MinimumAreaPx - Math.PI * BlurPx * BlurPx - 1));

    /// <summary>The level that bounds a particle: below the threshold when hysteresis is on.</summary>
    internal double BoundaryLevel => MatrixLevel + Settings.HysteresisShare * (Settings.Level!.Value - MatrixLevel);

    /// <summary>Turns a window of the picture as read into flattened, smoothed levels on which particles are bright.</summary>
    internal void Prepare(float[] plane, PixelBox window, CancellationToken cancel)
    {
        MedianFilter.Apply(plane, window.Width, window.Height, Settings.MedianPx, cancel);
        Shading?.Flatten(plane, window, cancel);
        if (Settings.Polarity == Polarity.Dark)
            RowBands.Run(window.Height, (from, to) =>
            {
                Span<float> rows = plane.AsSpan(from * window.Width, (to - from) * window.Width);
                TensorPrimitives.Subtract(255f, rows, rows);
            }, cancel);
        GaussianSmoothing.Apply(plane, window.Width, window.Height, Settings.SmoothingPx ?? 0, cancel);
        if (Settings.Rule == ThresholdRule.Local) LocalThreshold.Subtract(plane, window.Width, window.Height, cancel);
    }

    /// <summary>Decides everything that the settings leave open.</summary>
    /// <param name="source">The picture.</param>
    /// <param name="inspected">The part inspected.</param>
    /// <param name="settings">The settings.</param>
    /// <param name="cancel">Stops the work.</param>
    public static SegmentationPlan For(GreySource source, PixelBox inspected, SegmentationSettings settings, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(settings);
        LeftOutMask leftOut = new(settings.LeftOut, inspected);
        settings = ForClasses(settings);
        PictureSamples raw = PictureSamples.Take(source, inspected, leftOut, null, 0, neighbours: false, cancel);
        ShadingChoice choice = ShadingChoice.Make(raw, settings);
        SegmentationPlan plan = new(settings with { Polarity = choice.Polarity, SmoothingPx = settings.SmoothingPx ?? 0 }, inspected, choice.Surface, leftOut)
        {
            Noise = NoiseEstimate.Of(source, inspected),
        };
        PictureSamples Samples() => PictureSamples.Take(source, inspected, leftOut, (p, w) => plan.Prepare(p, w, cancel), plan.Reach, neighbours: true, cancel);
        List<string> notes = [.. choice.Notes];
        PictureSamples samples = Samples();
        double start = OtsuThreshold.Find(GreyHistogram.Of(samples.UsableGrey()));
        if (settings.SmoothingPx is null)
        {
            ContrastLevels levels = HalfContrastThreshold.Find(samples, start);
            double smoothing = settings.MedianPx > 1 ? 0 : Smoothing(plan.Noise, levels.Contrast, notes);
            if (smoothing > 0)
            {
                plan.Settings = plan.Settings with { SmoothingPx = smoothing };
                (samples, start) = (Samples(), levels.Middle);
            }
        }
        plan.ChooseLevel(samples, start, notes);
        plan.Notes = notes;
        return plan;
    }

    /// <summary>Settings for the likelihood of a class (0 to 255): a pixel belongs to it when more than half of the trees say so.</summary>
    private static SegmentationSettings ForClasses(SegmentationSettings settings) => settings.Examples.Count == 0 ? settings : settings with
    {
        Polarity = Segmentation.Polarity.Bright,
        Flatten = false,
        SmoothingPx = settings.SmoothingPx ?? 0,
        Rule = ThresholdRule.Fixed,
        Level = settings.Level ?? 127.5,
    };

    /// <summary>Smoothing that brings the noise to 1/9 of the contrast; none where it already is near that, since smoothing rounds corners and joins neighbours.</summary>
    private static double Smoothing(double noise, double contrast, List<string> notes)
    {
        double ratio = contrast > 0 ? noise / contrast : 0;
        if (ratio < 0.15) return 0;
        // White noise is reduced to 1/(2σ√π) by a Gaussian of σ pixels.
        double sigma = Math.Round(Math.Min(2, ratio * 9 / (2 * Math.Sqrt(Math.PI))), 2);
        notes.Add(string.Create(CultureInfo.InvariantCulture, $"Noise is {100 * ratio:0} % of the contrast: smoothed with a Gaussian of {sigma:0.##} px."));
        return sigma;
    }

    private void ChooseLevel(PictureSamples samples, double start, List<string> notes)
    {
        GreyHistogram histogram = GreyHistogram.Of(samples.UsableGrey());
        double otsu = OtsuThreshold.Find(histogram);
        ContrastLevels half = HalfContrastThreshold.Find(samples, start);
        Dictionary<string, double> candidates = new() { ["half contrast"] = half.Middle, ["Otsu"] = otsu, ["triangle"] = TriangleThreshold.Find(histogram) };
        if (MinimumErrorThreshold.Find(histogram) is { } minimumError) candidates["minimum error"] = minimumError;
        double level = Settings.Level ?? Settings.Rule switch
        {
            ThresholdRule.Otsu => otsu,
            ThresholdRule.MinimumError => candidates.GetValueOrDefault("minimum error", otsu),
            ThresholdRule.Triangle => candidates["triangle"],
            ThresholdRule.Local => 0,
            ThresholdRule.Fixed => throw new InvalidOperationException("A fixed threshold was asked for without a level. Give the level, or choose another rule."),
            _ => half.Middle,
        };
        bool oneMode = Settings.SingleMode && Settings.Rule == ThresholdRule.HalfContrast && Settings.Level is null && SingleModeRule.Holds(histogram, level);
        if (oneMode)
        {
            level = candidates["triangle"];
            notes.Add("The grey levels form one mode with a tail, no mode of particles: the threshold was taken at the foot of the mode (triangle rule). Look whether it suits.");
        }
        ContrastLevels levels = Settings.Rule == ThresholdRule.HalfContrast && Settings.Level is null && !oneMode ? half : HalfContrastThreshold.Levels(samples, level);
        (MatrixLevel, ParticleLevel, Candidates) = (levels.Matrix, levels.Particle, candidates);
        // The likelihood of a class is no picture of an edge: its slope is the doubt of the classifier, not blur.
        BlurPx = Settings.Examples.Count > 0 ? 0 : EdgeBlur.Estimate(samples, new(levels.Matrix, levels.Particle));
        Settings = Settings with { Level = level };
        if (levels.Contrast < LeastContrast)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"Matrix and particles differ by only {levels.Contrast:0.#} grey levels: the picture may hold no particles."));
    }
}
