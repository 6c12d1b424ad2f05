namespace Meltwise.Imaging.Segmentation;

/// <summary>The first look at a picture: which class is particles, and how the light varies over the matrix.</summary>
/// <remarks>
/// <para><b>Rule.</b> A broad surface through all samples gives a first division (Otsu) and the polarity. Then, twice, the surface is fitted again through matrix samples only,
/// away from particles, and the division is made again half-way between matrix and particles. Light is taken as multiplying when that makes the particle cores more alike than taking it as adding.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal sealed record ShadingChoice(ShadingSurface? Surface, Polarity Polarity, IReadOnlyList<string> Notes)
{
    private const double FirstSigma = 1.0 / 8, Sigma = 1.0 / 16, LeastMatrixShare = 0.02;
    private const int Rounds = 2;

    public static ShadingChoice Make(PictureSamples raw, SegmentationSettings settings)
    {
        List<string> notes = [];
        ShadingSurface surface = ShadingSurface.Fit(raw, null, FirstSigma);
        PictureSamples flat = Flat(raw, settings.Flatten ? surface : null);
        double threshold = OtsuThreshold.Find(GreyHistogram.Of(flat.UsableGrey()));
        (Polarity polarity, bool close) = settings.Polarity is { } given ? (given, false) : PolarityRule.Choose(flat, threshold);
        if (close) notes.Add($"Whether the particles are the bright or the dark class is close; {polarity.ToString().ToLowerInvariant()} was taken. State it if that is wrong.");
        ContrastLevels levels = LevelsOf(flat, polarity, threshold);
        if (!settings.Flatten) return new(null, polarity, notes);

        for (int round = 0; round < Rounds; round++)
        {
            bool[] particle = Near(flat, polarity, levels);
            if (particle.Count(p => !p) < LeastMatrixShare * particle.Length) break;
            surface = Best(raw, ShadingSurface.Fit(raw, particle, Sigma), polarity, levels, flat);
            flat = Flat(raw, surface);
            levels = LevelsOf(flat, polarity, OtsuThreshold.Find(GreyHistogram.Of(flat.UsableGrey())));
        }
        return new(surface, polarity, notes);
    }

    private static PictureSamples Flat(PictureSamples raw, ShadingSurface? surface)
    {
        if (surface is null) return raw;
        var grey = new float[raw.Grey.Length];
        Parallel.For(0, raw.Rows, RowBands.Workers(), j =>
        {
            float[] level = surface.LevelsAt(raw, j);
            for (int i = 0; i < raw.Columns; i++)
            {
                float v = raw.Grey[j * raw.Columns + i];
                grey[j * raw.Columns + i] = surface.Multiplies ? v / level[i] * surface.Mean : v - level[i] + surface.Mean;
            }
        });
        return raw.With(grey);
    }

    /// <summary>Levels of matrix and particles over all samples, iterated half-way, in levels on which particles are bright (negative of the grey level for dark particles).</summary>
    private static ContrastLevels LevelsOf(PictureSamples flat, Polarity polarity, double threshold)
    {
        ContrastLevels levels = default;
        for (int i = 0; i < 4; i++)
        {
            LevelMedian low = new(), high = new();
            foreach (float v in flat.UsableGrey()) (v > threshold ? high : low).Add(v);
            if (low.Count == 0 || high.Count == 0) return new(threshold, threshold);
            levels = polarity == Polarity.Bright ? new(low.Value, high.Value) : new(-high.Value, -low.Value);
            threshold = polarity == Polarity.Bright ? levels.Middle : -levels.Middle;
        }
        return levels;
    }

    /// <summary>Marks particle samples and their neighbours within two samples.</summary>
    private static bool[] Near(PictureSamples flat, Polarity polarity, ContrastLevels levels)
    {
        int width = flat.Columns, height = flat.Rows;
        float sign = polarity == Polarity.Bright ? 1 : -1, t = (float)levels.Middle;
        bool[] across = new bool[width * height], near = new bool[width * height];
        int reach = flat.Step == 1 ? 2 : 1;
        Parallel.For(0, height, RowBands.Workers(), y =>
        {
            for (int x = 0; x < width; x++)
            {
                if (sign * flat.Grey[y * width + x] <= t) continue;
                for (int n = Math.Max(0, x - reach); n <= Math.Min(width - 1, x + reach); n++) across[y * width + n] = true;
            }
        });
        Parallel.For(0, height, RowBands.Workers(), y =>
        {
            for (int n = Math.Max(0, y - reach); n <= Math.Min(height - 1, y + reach); n++)
                for (int x = 0; x < width; x++) near[y * width + x] |= across[n * width + x];
        });
        return near;
    }

    /// <summary>The surface taken as adding or as multiplying, whichever leaves the particle samples more alike for their contrast.</summary>
    private static ShadingSurface Best(PictureSamples raw, ShadingSurface adds, Polarity polarity, ContrastLevels levels, PictureSamples flat)
    {
        ShadingSurface multiplies = adds.As(multiplies: true);
        double sign = polarity == Polarity.Bright ? 1 : -1;
        return Spread(multiplies) < 0.98 * Spread(adds) ? multiplies : adds;

        double Spread(ShadingSurface surface)
        {
            PictureSamples tried = Flat(raw, surface);
            double n = 0, sum = 0, squares = 0;
            for (int i = 0; i < tried.Grey.Length; i++)
            {
                if (!flat.Usable[i] || sign * flat.Grey[i] <= levels.Middle) continue;
                double height = sign * (tried.Grey[i] - surface.Mean);
                n++;
                sum += height;
                squares += height * height;
            }
            double mean = sum / n;
            return n > 0 && mean > 0 ? Math.Sqrt(Math.Max(0, squares / n - mean * mean)) / mean : double.PositiveInfinity;
        }
    }
}
