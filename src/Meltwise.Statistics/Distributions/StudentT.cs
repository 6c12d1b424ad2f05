namespace Meltwise.Statistics.Distributions;

/// <summary>Student's t with any positive, also fractional, degrees of freedom; infinite degrees of freedom are the normal.</summary>
/// <remarks><b>Source.</b> [DLMF], 8.17; the tails by the incomplete beta function of ν/(ν + t²).</remarks>
public static class StudentT
{
    /// <summary>P(T ≤ t).</summary>
    public static double Cdf(double t, double degreesOfFreedom) => t < 0 ? Tail(-t, degreesOfFreedom) : 1 - Tail(t, degreesOfFreedom);

    /// <summary>P(T &gt; t), accurate also where it is far below 1e-16.</summary>
    public static double UpperTail(double t, double degreesOfFreedom) => t < 0 ? 1 - Tail(-t, degreesOfFreedom) : Tail(t, degreesOfFreedom);

    /// <summary>P(|T| &gt; |t|): the two-sided p value.</summary>
    public static double TwoSided(double t, double degreesOfFreedom) => 2 * Tail(Math.Abs(t), degreesOfFreedom);

    /// <summary>The t with P(T ≤ t) = p, for 0 &lt; p &lt; 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">p is not above 0 and below 1, or the degrees of freedom are not positive.</exception>
    public static double Quantile(double p, double degreesOfFreedom)
    {
        if (p is <= 0 or >= 1 || double.IsNaN(p))
            throw new ArgumentOutOfRangeException(nameof(p), p, "A quantile needs a probability above 0 and below 1.");
        if (p.Equals(0.5)) return 0;
        if (double.IsPositiveInfinity(degreesOfFreedom)) return Normal.Quantile(p);
        double tail = Math.Min(p, 1 - p);
        double t = tail > 0.25 ? Central(1 - 2 * tail, degreesOfFreedom) : Outer(tail, degreesOfFreedom);
        return p < 0.5 ? -t : t;
    }

    /// <summary>Density at t.</summary>
    public static double Density(double t, double degreesOfFreedom)
    {
        double nu = degreesOfFreedom, sum = nu + t * t;
        double front = SaddlePointTerms.Binomial(nu / 2, (nu + 1) / 2, nu / sum, t * t / sum);
        // x^a y^b/B(a,b) with a = ν/2, b = 1/2 is the binomial term times ab/(a+b); the density of t adds 1/|t|.
        if (Math.Abs(t) > 1e-8) return front * (nu / 2 / (nu + 1)) / Math.Abs(t);
        return Math.Exp(MathNet.Numerics.SpecialFunctions.GammaLn((nu + 1) / 2) - MathNet.Numerics.SpecialFunctions.GammaLn(nu / 2)) / Math.Sqrt(nu * Math.PI);
    }

    private static double Tail(double t, double degreesOfFreedom)
    {
        if (double.IsPositiveInfinity(degreesOfFreedom)) return Normal.UpperTail(t);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        if (double.IsPositiveInfinity(t)) return 0;
        return 0.5 * Split(t, degreesOfFreedom).Outside;
    }

    private static (double Inside, double Outside) Split(double t, double nu)
    {
        double square = t * t, sum = nu + square;
        (double outside, double inside) = double.IsPositiveInfinity(square)
            ? IncompleteBeta.Tails(nu / 2, 0.5, nu / t / t, 1)
            : IncompleteBeta.Tails(nu / 2, 0.5, nu / sum, square / sum);
        return (inside, outside);
    }

    /// <summary>Newton on ln(tail) against ln t: a straight line in the far tail, whatever ν is.</summary>
    private static double Outer(double tail, double nu)
    {
        double u = Math.Log(Start(tail, nu)), low = -40, high = 800;
        for (int i = 0; i < 60; i++)
        {
            double t = Math.Exp(u), at = Tail(t, nu);
            double excess = Math.Log(at / tail);
            if (excess > 0) low = u; else high = u;
            double next = u + excess * at / (Density(t, nu) * t);
            if (!(next > low && next < high)) next = 0.5 * (low + high);
            if (Math.Abs(next - u) < 2e-16 * Math.Max(1, Math.Abs(next))) return Math.Exp(next);
            u = next;
        }
        return Math.Exp(u);
    }

    /// <summary>Newton on the central probability, which keeps its digits as t goes to 0.</summary>
    private static double Central(double inside, double nu)
    {
        double t = 0.5 * inside / Density(0, nu);
        for (int i = 0; i < 60; i++)
        {
            double step = (Split(t, nu).Inside - inside) / (2 * Density(t, nu));
            t -= step;
            if (Math.Abs(step) < 2e-16 * t) break;
        }
        return t;
    }

    /// <summary>The normal quantile with its first correction in 1/ν, or the pure power tail where ν is small.</summary>
    private static double Start(double tail, double nu)
    {
        double z = -Normal.Quantile(tail);
        if (nu < 3) return Math.Max(z, Math.Pow(tail * nu, -1 / nu) * Math.Sqrt(nu) * 0.5);
        return z + (z * z * z + z) / (4 * nu);
    }
}
