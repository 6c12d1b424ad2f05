using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Comparison;

/// <summary>Do two lots scatter alike? One-way analysis of the distances from each lot's median.</summary>
/// <remarks>
/// <para><b>Formula.</b> F of a one-way analysis of variance of |z − median| on 1 and n₁ + n₂ − 2.</para>
/// <para><b>Limits.</b> Weak for small lots; at n = 3 or 4 it can hardly show anything.</para>
/// <para><b>Source.</b> [BrownForsythe1974].</para>
/// </remarks>
public static class BrownForsythe
{
    /// <summary>F and its p value; null when a lot has fewer than 2 readings or the distances do not vary.</summary>
    public static (double F, double P)? Test(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        if (first.Length < 2 || second.Length < 2) return null;
        double[] a = Distances(first), b = Distances(second);
        double meanA = a.Average(), meanB = b.Average(), all = (a.Sum() + b.Sum()) / (a.Length + b.Length);
        double between = a.Length * (meanA - all) * (meanA - all) + b.Length * (meanB - all) * (meanB - all);
        double within = a.Sum(x => (x - meanA) * (x - meanA)) + b.Sum(x => (x - meanB) * (x - meanB));
        int df = a.Length + b.Length - 2;
        if (within <= 0) return null;
        double f = between / (within / df);
        return (f, FisherF.UpperTail(f, 1, df));
    }

    private static double[] Distances(ReadOnlySpan<double> readings)
    {
        double[] sorted = readings.ToArray();
        Array.Sort(sorted);
        int n = sorted.Length;
        double median = n % 2 == 1 ? sorted[n / 2] : 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]);
        return [.. sorted.Select(x => Math.Abs(x - median))];
    }
}
