using Meltwise.Evidence;
using Meltwise.Statistics.Comparison;
using Xunit;

namespace Meltwise.Statistics.Tests.Comparison;

/// <summary>Against a naive enumeration by bit masks, written apart from the method.</summary>
public sealed class StudentizedPermutationTests
{
    private static readonly double[] s_first = [4.1, 5.3, 4.8, 6.0, 5.1], s_second = [3.2, 4.4, 3.9, 4.0];

    [Fact]
    public void Interval_is_that_of_all_splits()
    {
        double[] centred = [.. s_first.Select(v => v - s_first.Average()), .. s_second.Select(v => v - s_second.Average())];
        List<double> t = [];
        for (int mask = 0; mask < 1 << centred.Length; mask++)
        {
            if (System.Numerics.BitOperations.PopCount((uint)mask) != s_first.Length) continue;
            double[] a = [.. centred.Where((_, i) => (mask >> i & 1) == 1)], b = [.. centred.Where((_, i) => (mask >> i & 1) == 0)];
            t.Add(Math.Abs(a.Average() - b.Average()) / Math.Sqrt(Variance(a) / a.Length + Variance(b) / b.Length));
        }
        t.Sort();
        StudentizedPermutation fit = StudentizedPermutation.Fit(s_first, s_second)!;
        Assert.Equal(126, fit.Splits);
        double half = t[(int)Math.Ceiling(0.95 * 126) - 1] * Math.Sqrt(Variance(s_first) / 5 + Variance(s_second) / 4);
        Digits.Agree(s_first.Average() - s_second.Average() - half, fit.Interval(0.95).Lower, new(11), "lower limit");
        Digits.Agree(s_first.Average() - s_second.Average() + half, fit.Interval(0.95).Upper, new(11), "upper limit");
    }

    [Fact]
    public void Too_many_splits_give_none() => Assert.Null(StudentizedPermutation.Fit(new double[12], new double[12]));

    private static double Variance(double[] x) => x.Sum(v => (v - x.Average()) * (v - x.Average())) / (x.Length - 1);
}
