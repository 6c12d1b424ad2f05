namespace Meltwise.Imaging.Segmentation;

/// <summary>Threshold midway between the grey level of the matrix and of the particles, each taken away from edges.</summary>
/// <remarks>
/// <para><b>Formula.</b> t = (level of the matrix + level of the particles) / 2, each the median of the pixels whose 3 x 3 neighbours are all of that class, in at most three rounds from a start
/// (more rounds creep into the texture of a mottled matrix). A straight edge blurred by any symmetric blur crosses this level at its true place; a curved edge does so up to σ²/2R, see <see cref="EdgeBlur"/>.</para>
/// <para><b>Limits.</b> Where less than 15 % of the particle pixels are free of edges (particles two or three pixels wide), their own level is not seen and the start stands. Where fewer than 50 samples are free of edges, all of the class are used.</para>
/// <para><b>Source.</b> Half-amplitude rule for blurred edges: common practice, no source.</para>
/// </remarks>
internal static class HalfContrastThreshold
{
    private const int Rounds = 3, LeastCore = 50;
    private const double LeastCoreShare = 0.15;

    /// <summary>Finds the threshold.</summary>
    /// <param name="samples">Samples with neighbourhood figures.</param>
    /// <param name="start">First threshold, in grey levels.</param>
    public static ContrastLevels Find(PictureSamples samples, double start)
    {
        (double particle, double coreShare) = Level(samples, start, above: true);
        ContrastLevels levels = new(Level(samples, start, above: false).Level, particle);
        if (coreShare < LeastCoreShare) return levels with { Particle = 2 * start - levels.Matrix };
        for (int i = 1; i < Rounds; i++)
        {
            ContrastLevels next = Levels(samples, levels.Middle);
            bool settled = Math.Abs(next.Middle - levels.Middle) < 0.1;
            levels = next;
            if (settled) break;
        }
        return levels;
    }

    /// <summary>Matrix and particle levels at a given threshold.</summary>
    public static ContrastLevels Levels(PictureSamples samples, double threshold) =>
        new(Level(samples, threshold, above: false).Level, Level(samples, threshold, above: true).Level);

    private static (double Level, double CoreShare) Level(PictureSamples samples, double threshold, bool above)
    {
        float t = (float)threshold;
        LevelMedian all = new(), core = new();
        for (int i = 0; i < samples.Grey.Length; i++)
        {
            float v = samples.Grey[i];
            if (!samples.Usable[i] || v > t != above) continue;
            all.Add(v);
            if (above ? samples.Least[i] > t : samples.Greatest[i] <= t) core.Add(v);
        }
        return (core.Count >= LeastCore ? core.Value : all.Count > 0 ? all.Value : threshold, all.Count > 0 ? (double)core.Count / all.Count : 0);
    }
}

/// <summary>Grey levels of matrix and particles away from edges.</summary>
/// <param name="Matrix">Level of the matrix.</param>
/// <param name="Particle">Level of the particles.</param>
internal readonly record struct ContrastLevels(double Matrix, double Particle)
{
    public double Middle => 0.5 * (Matrix + Particle);
    public double Contrast => Particle - Matrix;
}

/// <summary>Median of grey levels by counting in bins of 1/16 level between -256 and 768, interpolated within the bin.</summary>
internal sealed class LevelMedian
{
    private const int PerLevel = 16, Offset = 256, Range = 1024;
    private readonly int[] _counts = new int[Range * PerLevel];

    public int Count { get; private set; }

    public double Value => Quantile(0.5);

    public void Add(float level)
    {
        _counts[Math.Clamp((int)((level + Offset) * PerLevel), 0, _counts.Length - 1)]++;
        Count++;
    }

    public double Quantile(double share)
    {
        double target = share * Count, below = 0;
        for (int i = 0; i < _counts.Length; i++)
        {
            if (below + _counts[i] >= target && _counts[i] > 0) return (i + (target - below) / _counts[i]) / PerLevel - Offset;
            below += _counts[i];
        }
        return double.NaN;
    }
}
