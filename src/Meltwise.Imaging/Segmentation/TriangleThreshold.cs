namespace Meltwise.Imaging.Segmentation;

/// <summary>Threshold for a histogram with one tall peak and a long tail: the bin farthest below the line from the peak to the end of the tail.</summary>
/// <remarks>
/// <para><b>Limits.</b> Meant for a small share of particles on a uniform matrix. The tail taken is the longer of the two.</para>
/// <para><b>Source.</b> G. W. Zack, W. E. Rogers, S. A. Latt, J. Histochemistry and Cytochemistry 25 (1977) 741-753.</para>
/// </remarks>
public static class TriangleThreshold
{
    /// <summary>The threshold in grey levels.</summary>
    public static double Find(GreyHistogram histogram)
    {
        ArgumentNullException.ThrowIfNull(histogram);
        IReadOnlyList<long> counts = histogram.Counts;
        int first = 0, last = counts.Count - 1, peak = 0;
        while (counts[first] == 0) first++;
        while (counts[last] == 0) last--;
        for (int i = first; i <= last; i++)
            if (counts[i] > counts[peak]) peak = i;
        int end = peak - first > last - peak ? first : last;
        int step = Math.Sign(end - peak), best = peak;
        double height = counts[peak], length = Math.Abs(end - peak), farthest = -1;
        for (int i = peak; step != 0 && i != end; i += step)
        {
            // Height of the line above the bin; proportional to the perpendicular distance, so enough for the maximum.
            double below = height * (1 - Math.Abs(i - peak) / length) - counts[i];
            if (below > farthest) (farthest, best) = (below, i);
        }
        return step < 0 ? histogram.UpperLimit(best - 1) : histogram.UpperLimit(best);
    }
}
