using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Calibrations;

/// <summary>Coverage of the intervals behind the verdict's "other choices", where lots differ in size and scatter.</summary>
internal static class ChoiceRates
{
    private const int MostSplits = 5_100;

    public static RateTable Table { get; } = new()
    {
        Name = "calibrate-choices",
        Title = "Other choices of how firm a verdict is, by size and scatter of the lots",
        What = "Normal logarithms, no true difference, 95 % intervals of the verdict itself (Welch) and of three choices that \"how firm\" counts beside it: 20 % trimmed means (Yuen), permutation of the centred readings (both from 5 coupons a lot, the latter where there are at most 5100 splits) and one variance for both lots. The first number is the lot whose scatter is told, as a multiple of the other lot's.",
        Columns = [RateColumn.Covers("Welch", allowance: 0.02), RateColumn.Covers("trimmed means", allowance: 0.05), RateColumn.Covers("permutation", allowance: 0.03), RateColumn.Covers("one variance", allowance: 0.24)],
        Designs = [.. from sizes in ((int, int)[])[(3, 3), (4, 4), (5, 5), (6, 6), (7, 7), (9, 9), (15, 15), (3, 6), (3, 9), (3, 12), (4, 8), (4, 12), (5, 6), (5, 8), (5, 12), (5, 15), (6, 9), (6, 18), (9, 15), (6, 3), (8, 5), (12, 5)] from ratio in (double[])[1, 1.5, 2, 3] select Of(sizes.Item1, sizes.Item2, ratio)],
        Replicates = 20_000,
        Reduced = 200,
        ReducedStride = 3,
        Seed = 314,
    };

    private static Design Of(int n, int m, double ratio) => new(FormattableString.Invariant($"n {n} and {m}, scatter ×{ratio}"), (ref RandomStream random, Tally tally) =>
    {
        double[] c = IntervalRates.Draw(ref random, n, 0, ratio), r = IntervalRates.Draw(ref random, m, 0, 1);
        LotContrast lots = WithinLoadContrast.Fit([.. c, .. r], [.. Enumerable.Range(0, n + m).Select(i => i < n)], new int[n + m], 1)!;
        tally.Add(0, lots.Own.Interval(0.95), 0);
        tally.Add(3, lots.Pooled.Interval(0.95), 0);
        if (Math.Min(n, m) < 5) return;
        tally.Add(1, TrimmedMeans.Fit(c, r).Interval(0.95), 0);
        if (StudentizedPermutation.Fit(c, r, MostSplits) is { } permutation) tally.Add(2, permutation.Interval(0.95), 0);
    });
}
