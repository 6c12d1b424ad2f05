using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Tolerance;

/// <summary>Tolerance limits from ordered readings alone, whatever their distribution.</summary>
/// <remarks><b>Formula.</b> The r-th smallest of n is a lower limit for a share p with confidence P(Bin(n, 1 - p) ≥ r) = I_{1-p}(r, n - r + 1);
/// with both the smallest and the largest left out r in all, the same with r in total. <b>Limits.</b> Continuous readings; needs many:
/// 59 for 95 % with 95 % confidence from the smallest. <b>Source.</b> [Wilks1941]; [HahnMeeker1991], ch. 5.</remarks>
public static class DistributionFreeTolerance
{
    /// <summary>Confidence that at least the share p lies above the r-th smallest (or within limits that leave out r readings in all).</summary>
    public static double Confidence(int n, int left, double coverage)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(left, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(left, n);
        return IncompleteBeta.Tails(left, n - left + 1, 1 - coverage, coverage).Lower;
    }

    /// <summary>Smallest number of coupons whose limits leaving out r readings have the wanted confidence.</summary>
    public static int CouponsNeeded(int left, double coverage, double confidence)
    {
        int low = left, high = left;
        while (Confidence(high, left, coverage) < confidence) (low, high) = (high, 2 * high);
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            if (Confidence(middle, left, coverage) < confidence) low = middle; else high = middle;
        }
        return Confidence(low, left, coverage) >= confidence ? low : high;
    }
}
