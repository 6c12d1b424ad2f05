using MathNet.Numerics.Integration;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Equivalence;

/// <summary>Power of the two one-sided t tests: the chance that the narrow interval falls inside the limits.</summary>
/// <remarks>
/// <para><b>Formula.</b> ∫ max(0, Φ((high − θ)/σ_d − t·q) − Φ((low − θ)/σ_d + t·q)) f(q) dq, with t = t(1 − α; ν) and q = s/σ, νq² ~ χ²(ν); σ_d the true standard error.
/// Both tests share one estimate of scatter, so the power is not the product of two noncentral t probabilities.</para>
/// <para><b>Computation.</b> Gauss-Legendre over the range of q that carries probability and can pass; absolute error below 1e-10 for ν from 1.</para>
/// <para><b>Source.</b> [Owen1965] in the form of [Phillips1990].</para>
/// </remarks>
public static class EquivalencePower
{
    private const int Panels = 12;
    private static readonly GaussPoint s_rule = new(24);

    /// <summary>The power.</summary>
    /// <param name="standardError">True standard error of the contrast.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of its estimate.</param>
    /// <param name="truth">True contrast.</param>
    /// <param name="low">Lower limit.</param>
    /// <param name="high">Upper limit.</param>
    /// <param name="alpha">Level of each one-sided test.</param>
    public static double Of(double standardError, double degreesOfFreedom, double truth, double low, double high, double alpha)
    {
        double t = StudentT.Quantile(1 - alpha, degreesOfFreedom), nu = degreesOfFreedom;
        double passes = (high - low) / (2 * standardError * t);
        double from = Math.Sqrt(ChiSquared.Quantile(1e-15, nu) / nu), to = Math.Min(passes, Math.Sqrt(ChiSquared.Quantile(1 - 1e-14, nu) / nu));
        if (to <= from) return 0;
        double logFront = Math.Log(2) + nu / 2 * Math.Log(nu / 2) - MathNet.Numerics.SpecialFunctions.GammaLn(nu / 2);
        double upper = (high - truth) / standardError, lower = (low - truth) / standardError, sum = 0, panel = (to - from) / Panels;
        for (int k = 0; k < Panels; k++)
        {
            for (int i = 0; i < s_rule.Nodes.Length; i++)
            {
                double q = from + panel * (k + 0.5 * (1 + s_rule.Nodes[i]));
                double inside = Normal.Cdf(upper - t * q) - Normal.Cdf(lower + t * q);
                if (inside > 0) sum += s_rule.Weights[i] * inside * Math.Exp(logFront + (nu - 1) * Math.Log(q) - nu * q * q / 2);
            }
        }
        return sum * panel / 2;
    }

    /// <summary>The smallest number whose power reaches a target, or null above <paramref name="most"/>.</summary>
    /// <param name="power">Power for a number.</param>
    /// <param name="target">Target, such as 0.8.</param>
    /// <param name="most">Largest number tried.</param>
    public static int? SmallestNumber(Func<int, double> power, double target, int most)
    {
        for (int n = 2; n <= most; n++) if (power(n) >= target) return n;
        return null;
    }

    private sealed class GaussPoint
    {
        public GaussPoint(int order)
        {
            GaussLegendreRule rule = new(-1, 1, order);
            Nodes = rule.Abscissas;
            Weights = rule.Weights;
        }

        public double[] Nodes { get; }

        public double[] Weights { get; }
    }
}
