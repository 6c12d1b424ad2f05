using Meltwise.Casework.Judging;

namespace Meltwise.Casework.Planning;

/// <summary>Two lots over one temper ladder, equal numbers at every level, compared as step 4 does without history.</summary>
/// <param name="Direct">Candidate less reference as it stands.</param>
/// <param name="HardnessDifference">Candidate less reference in hardness, as read, HRC.</param>
/// <param name="Slope">Common slope of the lots' lines.</param>
/// <param name="Variance">Residual variance about parallel lines.</param>
/// <param name="Unit">Part of it in the variance of the lots' difference.</param>
/// <param name="SlopeUnit">Part of it in the variance of the slope.</param>
/// <param name="DegreesOfFreedom">N − 3.</param>
/// <param name="Refused">Why the verdict refuses the comparison; null when it stands.</param>
internal readonly record struct SimulatedLadder(
    double Direct, double HardnessDifference, double Slope, double Variance, double Unit, double SlopeUnit, int DegreesOfFreedom, Reason? Refused)
{
    private const double LowestReliability = 0.5;

    /// <summary>Error rate at which lines are taken for not parallel.</summary>
    public const double ParallelAlpha = 0.05;

    /// <summary>At equal hardness.</summary>
    public SimulatedEstimate Estimate => Holding(Direct - Slope * HardnessDifference, HardnessDifference);

    /// <summary>A contrast that holds the slope so many times; one estimate of variance on one number of degrees of freedom.</summary>
    public SimulatedEstimate Holding(double estimate, double times)
    {
        double variance = Variance * (Unit + times * times * SlopeUnit);
        return new(estimate, variance, variance * variance / DegreesOfFreedom);
    }

    /// <summary>Fits parallel lines.</summary>
    /// <param name="z">Readings on the analysis scale, candidate first, level by level.</param>
    /// <param name="hardness">Mean hardness read at each level, candidate first.</param>
    /// <param name="withinSquares">Squares of coupon hardness inside the levels.</param>
    /// <param name="coupons">Coupons a level.</param>
    /// <param name="critical">F(0.95) on 1 and N − 4 degrees of freedom.</param>
    public static SimulatedLadder Fit(ReadOnlySpan<double> z, ReadOnlySpan<double> hardness, double withinSquares, int coupons, double critical)
    {
        int levels = hardness.Length / 2, n = levels * coupons;
        Span<double> meanZ = stackalloc double[2], meanX = stackalloc double[2], low = stackalloc double[2], high = stackalloc double[2];
        double sxx = 0, sxz = 0, szz = 0, separate = 0;
        for (int side = 0; side < 2; side++)
        {
            ReadOnlySpan<double> own = z.Slice(side * n, n), x = hardness.Slice(side * levels, levels);
            (double sumZ, double sumX, low[side], high[side]) = (0, 0, double.PositiveInfinity, double.NegativeInfinity);
            foreach (double v in own) sumZ += v;
            foreach (double v in x) (sumX, low[side], high[side]) = (sumX + v, Math.Min(low[side], v), Math.Max(high[side], v));
            (meanZ[side], meanX[side]) = (sumZ / n, sumX / levels);
            double xx = 0, xz = 0, zz = 0;
            for (int l = 0; l < levels; l++)
                for (int i = 0; i < coupons; i++)
                {
                    double a = x[l] - meanX[side], b = own[l * coupons + i] - meanZ[side];
                    (xx, xz, zz) = (xx + a * a, xz + a * b, zz + b * b);
                }
            separate += zz - xz * xz / xx;
            (sxx, sxz, szz) = (sxx + xx, sxz + xz, szz + zz);
        }
        int df = 2 * n - 3;
        double slope = sxz / sxx, residual = szz - slope * sxz;
        double reliability = coupons > 1 ? 1 - withinSquares / (2 * levels * (coupons - 1)) * (2 * levels - 2) / sxx : 1;
        Reason? refused = !(Math.Max(low[0], low[1]) < Math.Min(high[0], high[1])) ? Reason.OutsideTheTrend
            : reliability < LowestReliability ? Reason.HardnessSpreadTooSmall
            : residual - separate > critical * separate / (df - 1) ? Reason.StrataDiffer
            : null;
        return new(meanZ[0] - meanZ[1], meanX[0] - meanX[1], slope, residual / df, 2.0 / n, 1 / sxx, df, refused);
    }
}
