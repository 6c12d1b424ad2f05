namespace Meltwise.Imaging.Segmentation;

/// <summary>Threshold that minimises the classification error of two normal grey-level populations fitted to the histogram.</summary>
/// <remarks>
/// <para><b>Formula.</b> t = argmin 1 + 2[P0 ln σ0 + P1 ln σ1] - 2[P0 ln P0 + P1 ln P1].</para>
/// <para><b>Limits.</b> Needs two roughly normal populations; bins of zero spread are left out. With strong noise of one population it may run to an end of the histogram.</para>
/// <para><b>Source.</b> J. Kittler, J. Illingworth, Pattern Recognition 19 (1986) 41-47.</para>
/// </remarks>
public static class MinimumErrorThreshold
{
    /// <summary>The threshold in grey levels, or null when no division of the histogram gives two populations with spread.</summary>
    public static double? Find(GreyHistogram histogram)
    {
        ArgumentNullException.ThrowIfNull(histogram);
        double total = 0, sum = 0, squares = 0;
        for (int i = 0; i < GreyHistogram.Bins; i++)
        {
            double n = histogram.Counts[i];
            total += n;
            sum += n * i;
            squares += n * i * i;
        }
        double best = double.PositiveInfinity, weight = 0, first = 0, second = 0;
        int? bin = null;
        for (int i = 0; i < GreyHistogram.Bins - 1; i++)
        {
            double n = histogram.Counts[i];
            weight += n;
            first += n * i;
            second += n * i * i;
            double criterion = Criterion(weight, first, second, total - weight, sum - first, squares - second);
            if (criterion < best) (best, bin) = (criterion, i);
        }
        return bin is { } b ? histogram.UpperLimit(b) : null;
    }

    private static double Criterion(double n0, double s0, double q0, double n1, double s1, double q1)
    {
        // A twelfth of a bin squared is the spread that binning alone gives; less is not a population.
        const double least = 1.0 / 12;
        if (n0 <= 0 || n1 <= 0) return double.PositiveInfinity;
        double v0 = q0 / n0 - s0 / n0 * (s0 / n0), v1 = q1 / n1 - s1 / n1 * (s1 / n1);
        if (v0 <= least || v1 <= least) return double.PositiveInfinity;
        double p0 = n0 / (n0 + n1), p1 = 1 - p0;
        return 1 + p0 * Math.Log(v0) + p1 * Math.Log(v1) - 2 * (p0 * Math.Log(p0) + p1 * Math.Log(p1));
    }
}
