using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Paired;

/// <summary>Two readings of each coupon or block, compared by their differences.</summary>
/// <remarks><b>Formula.</b> Student's t on the differences with n - 1; two one-sided tests against a margin; exact sign-flip test over all 2^n patterns.
/// <b>Limits.</b> At least 3 pairs; the sign-flip test up to 24 pairs. <b>Source.</b> [Student1908]; [Schuirmann1987]; [Fisher1935], 21.</remarks>
public static class PairedComparison
{
    /// <summary>Compares.</summary>
    public static PairedResult Of(IReadOnlyList<double> differences)
    {
        ArgumentNullException.ThrowIfNull(differences);
        int n = differences.Count;
        if (n < 3) throw new InsufficientDataException($"A paired comparison needs at least 3 pairs; got {n}.");
        double mean = differences.Average(), sd = Math.Sqrt(differences.Sum(d => (d - mean) * (d - mean)) / (n - 1));
        if (sd == 0) throw new InsufficientDataException("All differences are equal, so they show no scatter to compare with.");
        return new(n, mean, sd, n <= 24 ? SignFlip([.. differences]) : null);
    }

    /// <summary>Share of sign patterns whose mean is at least as far from 0, patterns counted with a slack of rounding.</summary>
    private static double SignFlip(double[] d)
    {
        double observed = Math.Abs(d.Sum()), slack = 1e-12 * d.Sum(Math.Abs), sum = -d.Sum();
        long extreme = 0, patterns = 1L << d.Length;
        bool[] up = new bool[d.Length];
        for (long pattern = 0; ; pattern++)
        {
            if (Math.Abs(sum) >= observed - slack) extreme++;
            if (pattern == patterns - 1) return extreme / (double)patterns;

            // Gray code: one sign changes from pattern to pattern.
            int flip = System.Numerics.BitOperations.TrailingZeroCount(pattern + 1);
            up[flip] = !up[flip];
            sum += up[flip] ? 2 * d[flip] : -2 * d[flip];
        }
    }
}

/// <summary>A paired comparison.</summary>
/// <param name="Pairs">Number of pairs.</param>
/// <param name="Mean">Mean difference.</param>
/// <param name="StandardDeviation">Standard deviation of the differences.</param>
/// <param name="SignFlipP">Exact two-sided p value over all sign patterns; null above 24 pairs.</param>
public sealed record PairedResult(int Pairs, double Mean, double StandardDeviation, double? SignFlipP)
{
    /// <summary>Standard error of the mean difference.</summary>
    public double StandardError => StandardDeviation / Math.Sqrt(Pairs);

    /// <summary>t statistic.</summary>
    public double T => Mean / StandardError;

    /// <summary>Two-sided p value.</summary>
    public double P => StudentT.TwoSided(T, Pairs - 1);

    /// <summary>Two-sided interval.</summary>
    public (double Lower, double Upper) Interval(double level)
    {
        double half = StudentT.Quantile(0.5 + level / 2, Pairs - 1) * StandardError;
        return (Mean - half, Mean + half);
    }

    /// <summary>p values of the two one-sided tests against a margin.</summary>
    public (double Lower, double Upper) EquivalenceP(double low, double high) =>
        (StudentT.UpperTail((Mean - low) / StandardError, Pairs - 1), StudentT.Cdf((Mean - high) / StandardError, Pairs - 1));
}
