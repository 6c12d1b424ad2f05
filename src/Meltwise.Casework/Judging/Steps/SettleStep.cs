using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Equivalence;

namespace Meltwise.Casework.Judging;

/// <summary>What would settle an open case: the smallest number of coupons a lot, in all, with a chance of 0.8 of agreement.</summary>
/// <remarks>Normal theory: V = 2s²/n with s² the mean of the lots' variances and ν = 2n − 2; at equal hardness plus the slope's part, which more coupons do not lower.</remarks>
internal static class SettleStep
{
    public const int MostCoupons = 200;

    public static CouponsToSettle Coupons(LotContrast contrast, double seen, (double Low, double High) limits, double alpha, VariancePart? slope)
    {
        double variance = contrast.Scatter.Average(s => s.Variance);
        return new(Smallest(variance, 0, limits, alpha, slope), Smallest(variance, seen, limits, alpha, slope));
    }

    private static NumberToSettle? Smallest(double variance, double truth, (double Low, double High) limits, double alpha, VariancePart? slope)
    {
        if (!(truth > limits.Low && truth < limits.High)) return null;
        double PowerAt(int n)
        {
            List<VariancePart> parts = [new("coupons", 2 * variance / n, 2 * n - 2)];
            if (slope is { } fixedPart) parts.Add(fixedPart);
            ContrastEstimate at = ContrastEstimate.FromParts(0, parts);
            return EquivalencePower.Of(at.StandardError, at.DegreesOfFreedom, truth, limits.Low, limits.High, alpha);
        }
        return EquivalencePower.SmallestNumber(PowerAt, 0.8, MostCoupons) is { } number ? new(number) : new(MostCoupons, true);
    }
}
