namespace Meltwise.Imaging.Segmentation;

/// <summary>Counts of grey levels in equal bins between the least and the greatest level.</summary>
public sealed class GreyHistogram
{
    /// <summary>Number of bins.</summary>
    public const int Bins = 256;

    private GreyHistogram(double low, double high, long[] counts) => (Low, High, Counts) = (low, high, counts);

    /// <summary>Lower limit of the first bin, in grey levels.</summary>
    public double Low { get; }

    /// <summary>Upper limit of the last bin, in grey levels.</summary>
    public double High { get; }

    /// <summary>Pixels in each bin.</summary>
    public IReadOnlyList<long> Counts { get; }

    /// <summary>Width of a bin, in grey levels.</summary>
    public double BinWidth => (High - Low) / Bins;

    /// <summary>Centre of a bin, in grey levels.</summary>
    public double Centre(int bin) => Low + (bin + 0.5) * BinWidth;

    /// <summary>Upper limit of a bin, in grey levels: the threshold that puts the bin with the lower class.</summary>
    public double UpperLimit(int bin) => Low + (bin + 1) * BinWidth;

    /// <summary>Counts the levels. When every level is the same, one bin holds them all.</summary>
    /// <exception cref="ArgumentException">No levels.</exception>
    public static GreyHistogram Of(ReadOnlySpan<float> levels)
    {
        if (levels.IsEmpty) throw new ArgumentException("A histogram needs at least one grey level.", nameof(levels));
        float low = float.MaxValue, high = float.MinValue;
        foreach (float v in levels)
        {
            low = Math.Min(low, v);
            high = Math.Max(high, v);
        }
        if (high <= low) high = low + 1;
        var counts = new long[Bins];
        float scale = Bins / (high - low);
        foreach (float v in levels) counts[Math.Min(Bins - 1, (int)((v - low) * scale))]++;
        return new(low, high, counts);
    }
}
