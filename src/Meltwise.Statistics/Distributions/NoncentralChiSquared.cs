namespace Meltwise.Statistics.Distributions;

/// <summary>The noncentral chi-squared distribution: a Poisson mixture of central ones.</summary>
/// <remarks>
/// <para><b>Formula.</b> P = Σ_j Pois(j; λ/2) P(χ²_{ν+2j} ≤ x), and likewise the upper tail; every term is positive, so both tails keep their digits.</para>
/// <para><b>Computation.</b> The largest term is found and the sum runs outward from it until terms no longer count (see <see cref="PoissonMixture"/>).</para>
/// <para><b>Source.</b> [JohnsonKotzBalakrishnan1995], ch. 29.</para>
/// </remarks>
public static class NoncentralChiSquared
{
    /// <summary>P(X ≤ x).</summary>
    public static double Cdf(double x, double degreesOfFreedom, double noncentrality) => Tails(x, degreesOfFreedom, noncentrality).Lower;

    /// <summary>P(X &gt; x).</summary>
    public static double UpperTail(double x, double degreesOfFreedom, double noncentrality) => Tails(x, degreesOfFreedom, noncentrality).Upper;

    /// <summary>The x with P(X ≤ x) = p, for 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double degreesOfFreedom, double noncentrality) =>
        TailInversion.OnPositive(p, x => Tails(x, degreesOfFreedom, noncentrality), degreesOfFreedom + noncentrality);

    private static (double Lower, double Upper) Tails(double x, double degreesOfFreedom, double noncentrality)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        ArgumentOutOfRangeException.ThrowIfNegative(noncentrality);
        return PoissonMixture.Tails(noncentrality / 2, j => IncompleteGamma.Tails(degreesOfFreedom / 2 + j, x / 2));
    }
}
