using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Tolerance;

/// <summary>Factors k for prediction limits mean ± k·s of coupons not yet broken.</summary>
/// <remarks>
/// <para><b>Formula.</b> Mean of m: t·√(1/m + 1/n). All of m at once: √(1 + 1/n) times the critical value of m equally correlated t statistics with r = 1/(n + 1).</para>
/// <para><b>Limits.</b> Normal readings of the same lot, n ≥ 2. <b>Source.</b> [HahnMeeker1991], ch. 4.</para>
/// </remarks>
public static class NormalPrediction
{
    /// <summary>k for the mean of the next m coupons, one-sided or two-sided.</summary>
    public static double MeanOf(int future, int n, double confidence, bool twoSided)
    {
        Require(future, n);
        return StudentT.Quantile(twoSided ? 0.5 + confidence / 2 : confidence, n - 1) * Math.Sqrt(1.0 / future + 1.0 / n);
    }

    /// <summary>k for two-sided limits that hold all of the next m coupons, exactly.</summary>
    public static double AllOf(int future, int n, double confidence)
    {
        Require(future, n);
        double[,] correlation = new double[future, future];
        for (int i = 0; i < future; i++)
            for (int j = 0; j < future; j++) correlation[i, j] = i == j ? 1 : 1.0 / (n + 1);
        return MultivariateT.TwoSidedCritical(1 - confidence, correlation, n - 1) * Math.Sqrt(1 + 1.0 / n);
    }

    private static void Require(int future, int n)
    {
        if (n < 2) throw new InsufficientDataException($"A prediction limit needs at least 2 coupons; got {n}.");
        ArgumentOutOfRangeException.ThrowIfLessThan(future, 1);
    }
}
