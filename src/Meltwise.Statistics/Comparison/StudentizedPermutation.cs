namespace Meltwise.Statistics.Comparison;

/// <summary>Interval for a difference of means from all splits of the centred readings, studentized.</summary>
/// <remarks>
/// <para><b>Formula.</b> Each lot is centred on its own mean, the readings are split in every possible way, and |t| of Welch's statistic is taken of each split.
/// The interval is d ± q·se with q the order statistic ⌈level·K⌉ of the K values of |t|.</para>
/// <para><b>Limits.</b> Complete enumeration only: no interval when there are more splits than the caller allows. Needs 2 readings a lot; meant for 5 and more.</para>
/// <para><b>Source.</b> [Janssen1997] for studentizing when the variances differ; centring makes it an interval instead of a test of equality.</para>
/// </remarks>
public sealed class StudentizedPermutation
{
    private readonly double[] _sorted;

    private StudentizedPermutation(double difference, double standardError, double[] sorted) =>
        (Difference, StandardError, _sorted) = (difference, standardError, sorted);

    /// <summary>First minus second.</summary>
    public double Difference { get; }

    /// <summary>Welch's standard error.</summary>
    public double StandardError { get; }

    /// <summary>Number of splits.</summary>
    public int Splits => _sorted.Length;

    /// <summary>Enumerates the splits, or gives null when there are more than <paramref name="most"/>.</summary>
    public static StudentizedPermutation? Fit(ReadOnlySpan<double> first, ReadOnlySpan<double> second, int most = 50_000)
    {
        int n = first.Length, m = second.Length;
        if (CountSplits(n + m, n, most) is not { } splits) return null;
        (double meanA, double varianceA) = Moments(first);
        (double meanB, double varianceB) = Moments(second);
        double[] centred = new double[n + m];
        for (int i = 0; i < n; i++) centred[i] = first[i] - meanA;
        for (int i = 0; i < m; i++) centred[n + i] = second[i] - meanB;
        double[] t = new double[splits];
        Enumerate(centred, n, t);
        Array.Sort(t);
        return new(meanA - meanB, Math.Sqrt(varianceA / n + varianceB / m), t);
    }

    /// <summary>The interval at a level such as 0.95.</summary>
    public (double Lower, double Upper) Interval(double level)
    {
        int rank = Math.Min(_sorted.Length, (int)Math.Ceiling(level * _sorted.Length - 1e-9));
        double half = _sorted[rank - 1] * StandardError;
        return (Difference - half, Difference + half);
    }

    private static int? CountSplits(int all, int chosen, int most)
    {
        double count = 1;
        for (int i = 1; i <= chosen; i++)
        {
            count = count * (all - chosen + i) / i;
            if (count > most * 1e3) return null;
        }
        return count > most ? null : (int)Math.Round(count);
    }

    private static (double Mean, double Variance) Moments(ReadOnlySpan<double> x)
    {
        double mean = 0, squares = 0;
        foreach (double v in x) mean += v;
        mean /= x.Length;
        foreach (double v in x) squares += (v - mean) * (v - mean);
        return (mean, squares / (x.Length - 1));
    }

    private static void Enumerate(ReadOnlySpan<double> centred, int n, Span<double> t)
    {
        int all = centred.Length, m = all - n;
        double total = 0, totalSquares = 0;
        foreach (double c in centred) (total, totalSquares) = (total + c, totalSquares + c * c);
        Span<int> pick = stackalloc int[n];
        for (int i = 0; i < n; i++) pick[i] = i;
        for (int k = 0; ; k++)
        {
            double sum = 0, squares = 0;
            foreach (int i in pick) (sum, squares) = (sum + centred[i], squares + centred[i] * centred[i]);
            double rest = total - sum;
            double variance = (squares - sum * sum / n) / (n - 1) / n + (totalSquares - squares - rest * rest / m) / (m - 1) / m;
            t[k] = Math.Abs(sum / n - rest / m) / Math.Sqrt(variance);
            int last = n - 1;
            while (last >= 0 && pick[last] == all - n + last) last--;
            if (last < 0) return;
            pick[last]++;
            for (int i = last + 1; i < n; i++) pick[i] = pick[i - 1] + 1;
        }
    }
}
