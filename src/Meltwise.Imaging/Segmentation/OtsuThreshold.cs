namespace Meltwise.Imaging.Segmentation;

/// <summary>Threshold that makes the variance between two grey-level classes greatest.</summary>
/// <remarks>
/// <para><b>Formula.</b> t = argmax ω0 ω1 (μ1 - μ0)², ω and μ the shares and means of the classes below and above t.</para>
/// <para><b>Limits.</b> Pulled towards the larger class when the classes differ much in share or spread; blurred edges pull it below the middle of the two levels.</para>
/// <para><b>Source.</b> N. Otsu, IEEE Trans. Systems, Man and Cybernetics 9 (1979) 62-66.</para>
/// </remarks>
public static class OtsuThreshold
{
    /// <summary>The threshold in grey levels: pixels above it are the brighter class.</summary>
    public static double Find(GreyHistogram histogram)
    {
        ArgumentNullException.ThrowIfNull(histogram);
        double total = 0, sum = 0;
        for (int i = 0; i < GreyHistogram.Bins; i++)
        {
            total += histogram.Counts[i];
            sum += histogram.Counts[i] * (double)i;
        }
        double best = -1, weight = 0, below = 0;
        int bin = 0;
        for (int i = 0; i < GreyHistogram.Bins - 1; i++)
        {
            weight += histogram.Counts[i];
            below += histogram.Counts[i] * (double)i;
            if (weight == 0 || weight == total) continue;
            double difference = (sum - below) / (total - weight) - below / weight;
            double between = weight * (total - weight) * difference * difference;
            if (between > best) (best, bin) = (between, i);
        }
        return histogram.UpperLimit(bin);
    }

    /// <summary>Thresholds of <paramref name="classes"/> grey-level classes, by exhaustive dynamic programming over the histogram.</summary>
    /// <param name="histogram">The histogram.</param>
    /// <param name="classes">Number of classes, 2 to 8.</param>
    /// <returns>classes - 1 thresholds in grey levels, ascending.</returns>
    public static double[] FindMany(GreyHistogram histogram, int classes)
    {
        ArgumentNullException.ThrowIfNull(histogram);
        ArgumentOutOfRangeException.ThrowIfLessThan(classes, 2);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(classes, 8);
        const int n = GreyHistogram.Bins;
        double[] count = new double[n + 1], sum = new double[n + 1];
        for (int i = 0; i < n; i++)
        {
            count[i + 1] = count[i] + histogram.Counts[i];
            sum[i + 1] = sum[i] + histogram.Counts[i] * (double)i;
        }
        // Maximising the between-class variance is maximising the sum over classes of (class sum)² / (class count).
        double Gain(int from, int to) => count[to] > count[from] ? (sum[to] - sum[from]) * (sum[to] - sum[from]) / (count[to] - count[from]) : 0;
        var best = new double[classes + 1, n + 1];
        var cut = new int[classes + 1, n + 1];
        for (int to = 1; to <= n; to++) best[1, to] = Gain(0, to);
        for (int k = 2; k <= classes; k++)
            for (int to = k; to <= n; to++)
                for (int from = k - 1; from < to; from++)
                    if (best[k - 1, from] + Gain(from, to) is var gain && (from == k - 1 || gain > best[k, to]))
                        (best[k, to], cut[k, to]) = (gain, from);
        var thresholds = new double[classes - 1];
        for (int k = classes, to = n; k >= 2; k--)
        {
            to = cut[k, to];
            thresholds[k - 2] = histogram.UpperLimit(to - 1);
        }
        return thresholds;
    }
}
