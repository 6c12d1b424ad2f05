namespace Meltwise.Statistics.Comparison;

/// <summary>Difference of trimmed means with winsorized variances.</summary>
/// <remarks>
/// <para><b>Formula.</b> g = ⌊trim·n⌋ readings are cut at each end, h = n − 2g are left; d = s²_w(n − 1)/(h(h − 1)) with the winsorized variance s²_w; ν by Satterthwaite on h − 1.</para>
/// <para><b>Limits.</b> Meant for n of 5 or more a lot; at n = 5 and trim 0.2 one reading goes at each end.</para>
/// <para><b>Source.</b> [Yuen1974].</para>
/// </remarks>
public static class TrimmedMeans
{
    /// <summary>Compares two lots: first minus second.</summary>
    /// <param name="first">Readings, at least 3.</param>
    /// <param name="second">Readings, at least 3.</param>
    /// <param name="trim">Share cut at each end, below 0.5.</param>
    public static ContrastEstimate Fit(ReadOnlySpan<double> first, ReadOnlySpan<double> second, double trim = 0.2)
    {
        (double meanA, VariancePart a) = Lot(first, trim, "first");
        (double meanB, VariancePart b) = Lot(second, trim, "second");
        return ContrastEstimate.FromParts(meanA - meanB, [a, b]);
    }

    private static (double Mean, VariancePart Part) Lot(ReadOnlySpan<double> readings, double trim, string name)
    {
        double[] sorted = readings.ToArray();
        Array.Sort(sorted);
        int n = sorted.Length, g = (int)Math.Floor(trim * n + 1e-12), left = n - 2 * g;
        double trimmed = 0, winsorized = 0;
        for (int i = 0; i < n; i++)
        {
            if (i >= g && i < n - g) trimmed += sorted[i];
            winsorized += sorted[Math.Clamp(i, g, n - g - 1)];
        }
        winsorized /= n;
        double squares = 0;
        for (int i = 0; i < n; i++)
        {
            double d = sorted[Math.Clamp(i, g, n - g - 1)] - winsorized;
            squares += d * d;
        }
        return (trimmed / left, new(name, squares / ((double)left * (left - 1)), left - 1));
    }
}
