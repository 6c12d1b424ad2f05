using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Comparison;

/// <summary>One independent part of a variance, with the degrees of freedom it was estimated on.</summary>
/// <param name="Name">What it comes from: a lot, a heat, the slope, the hardness.</param>
/// <param name="Variance">Its share of the variance of the contrast, in the square of the unit of the contrast.</param>
/// <param name="DegreesOfFreedom">Above 0.</param>
public readonly record struct VariancePart(string Name, double Variance, double DegreesOfFreedom);

/// <summary>An estimated contrast with its standard error and degrees of freedom, read against Student's t.</summary>
/// <remarks>
/// <para><b>Formula.</b> V = ΣVₖ, ν = V²/Σ(Vₖ²/νₖ); intervals are estimate ± t(ν)·√V.</para>
/// <para><b>Source.</b> [Satterthwaite1946] for ν of a sum of independent variance estimates; [Schuirmann1987] for the two one-sided tests.</para>
/// <para><b>Limits.</b> Parts must be independent. With ν below about 2 the approximation is poor and the caller should refuse.</para>
/// </remarks>
/// <param name="Estimate">The contrast, e.g. a difference of mean logarithms.</param>
/// <param name="StandardError">Its standard error, same unit.</param>
/// <param name="DegreesOfFreedom">ν, fractional as a rule.</param>
public readonly record struct ContrastEstimate(double Estimate, double StandardError, double DegreesOfFreedom)
{
    /// <summary>From independent variance parts.</summary>
    public static ContrastEstimate FromParts(double estimate, IReadOnlyList<VariancePart> parts)
    {
        double sum = 0, spread = 0;
        foreach (VariancePart part in parts)
        {
            sum += part.Variance;
            spread += part.Variance * part.Variance / part.DegreesOfFreedom;
        }
        return new(estimate, Math.Sqrt(sum), sum * sum / spread);
    }

    /// <summary>The two-sided interval at a level such as 0.95.</summary>
    public (double Lower, double Upper) Interval(double level)
    {
        double half = StudentT.Quantile(0.5 + level / 2, DegreesOfFreedom) * StandardError;
        return (Estimate - half, Estimate + half);
    }

    /// <summary>Two-sided p value of "the contrast is 0".</summary>
    public double PDifference => StudentT.TwoSided(Estimate / StandardError, DegreesOfFreedom);

    /// <summary>One-sided p value of "the contrast is at or below the limit".</summary>
    public double PNotAbove(double limit) => StudentT.UpperTail((Estimate - limit) / StandardError, DegreesOfFreedom);

    /// <summary>The larger p value of the two one-sided tests against the limits: below α, the contrast is shown to lie between them.</summary>
    public double PEquivalence(double low, double high) =>
        Math.Max(PNotAbove(low), StudentT.Cdf((Estimate - high) / StandardError, DegreesOfFreedom));
}
