namespace Meltwise.Statistics.Distributions;

/// <summary>The noncentral F distribution: the power of F tests.</summary>
/// <remarks>
/// <para><b>Formula.</b> P = Σ_j Pois(j; λ/2) I_x(ν₁/2 + j, ν₂/2) with x = ν₁f/(ν₁f + ν₂), and likewise the upper tail.</para>
/// <para><b>Computation.</b> As for <see cref="NoncentralChiSquared"/>.</para>
/// <para><b>Source.</b> [JohnsonKotzBalakrishnan1995], ch. 30.</para>
/// </remarks>
public static class NoncentralF
{
    /// <summary>P(F ≤ f).</summary>
    public static double Cdf(double f, double numeratorDf, double denominatorDf, double noncentrality) => Tails(f, numeratorDf, denominatorDf, noncentrality).Lower;

    /// <summary>P(F &gt; f).</summary>
    public static double UpperTail(double f, double numeratorDf, double denominatorDf, double noncentrality) => Tails(f, numeratorDf, denominatorDf, noncentrality).Upper;

    /// <summary>The f with P(F ≤ f) = p, for 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double numeratorDf, double denominatorDf, double noncentrality) =>
        TailInversion.OnPositive(p, f => Tails(f, numeratorDf, denominatorDf, noncentrality), 1 + noncentrality / numeratorDf);

    private static (double Lower, double Upper) Tails(double f, double numeratorDf, double denominatorDf, double noncentrality)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(numeratorDf);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(denominatorDf);
        ArgumentOutOfRangeException.ThrowIfNegative(noncentrality);
        if (f <= 0) return (0, 1);
        double d1 = numeratorDf, d2 = denominatorDf, sum = d1 * f + d2;
        return PoissonMixture.Tails(noncentrality / 2, j => IncompleteBeta.Tails(d1 / 2 + j, d2 / 2, d1 * f / sum, d2 / sum));
    }
}
