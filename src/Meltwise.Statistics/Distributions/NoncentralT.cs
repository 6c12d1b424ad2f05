namespace Meltwise.Statistics.Distributions;

/// <summary>The noncentral t distribution of (Z + δ)/√(χ²_ν/ν): the power of t tests and the exact tolerance factors.</summary>
/// <remarks>
/// <para><b>Formula.</b> P(T ≤ t) = ∫ Φ(t s - δ) f(s) ds with s = √(χ²_ν/ν). All parts are positive, so a tail of 1e-100 keeps its digits.</para>
/// <para><b>Computation.</b> In u = ln s the logarithm of the integrand has one peak. The peak and the points where it has
/// fallen by e^-40 are found, and the trapezoidal rule, exponentially accurate for such an integrand, is halved until it stands still.</para>
/// <para><b>Range.</b> ν &gt; 0, any δ and t. Relative error about 1e-12.</para>
/// <para><b>Source.</b> Definition [JohnsonKotzBalakrishnan1995], ch. 31; trapezoidal rule [TrefethenWeideman2014].</para>
/// </remarks>
public static class NoncentralT
{
    /// <summary>P(T ≤ t).</summary>
    public static double Cdf(double t, double degreesOfFreedom, double noncentrality) => Tails(t, degreesOfFreedom, noncentrality).Lower;

    /// <summary>P(T &gt; t).</summary>
    public static double UpperTail(double t, double degreesOfFreedom, double noncentrality) => Tails(t, degreesOfFreedom, noncentrality).Upper;

    /// <summary>The t with P(T ≤ t) = p, for 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double degreesOfFreedom, double noncentrality)
    {
        double spread = Math.Sqrt(1 + noncentrality * noncentrality / (2 * degreesOfFreedom));
        return TailInversion.OnLine(p, t => Tails(t, degreesOfFreedom, noncentrality), noncentrality, spread);
    }

    private static (double Lower, double Upper) Tails(double t, double degreesOfFreedom, double noncentrality)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        double nu = degreesOfFreedom, delta = noncentrality;
        if (delta.Equals(0.0)) return (StudentT.Cdf(t, nu), StudentT.UpperTail(t, nu));
        if (t.Equals(0.0)) return (Normal.Cdf(-delta), Normal.UpperTail(-delta));
        double lower = Tail(t, nu, delta);
        if (lower < 0.5) return (lower, 1 - lower);

        // The reflection P(T > t; δ) = P(T ≤ -t; -δ) turns the other tail into a positive integral of its own.
        double upper = Tail(-t, nu, -delta);
        return (1 - upper, upper);
    }

    private static double Tail(double t, double nu, double delta)
    {
        double logConstant = ChiRoot.LogDensityConstant(nu);
        double Log(double u)
        {
            double s = Math.Exp(u);
            return logConstant + nu * (u - 0.5 * (s * s - 1)) + LogCdf(t * s - delta);
        }
        double Slope(double u)
        {
            double s = Math.Exp(u), z = t * s - delta;
            return nu * (1 - s * s) + t * s * Math.Exp(-0.5 * z * z - 0.918938533204672742 - LogCdf(z));
        }
        return PeakedIntegral.Over(Log, Slope);
    }

    private static double LogCdf(double z)
    {
        if (z > -36) return Math.Log(Normal.Cdf(z));
        double r = 1 / (z * z);
        return -0.5 * z * z - 0.918938533204672742 - Math.Log(-z) + Math.Log(1 - r * (1 - 3 * r * (1 - 5 * r * (1 - 7 * r))));
    }
}
