using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Comparison;

/// <summary>Ratio of two standard deviations with an F interval.</summary>
/// <remarks>
/// <para><b>Formula.</b> √(s²₁/s²₂) with limits √(F/F(0.975)), √(F/F(0.025)) on the two degrees of freedom.</para>
/// <para><b>Limits.</b> Sensitive to non-normal readings whatever the number; <see cref="BrownForsythe"/> is the robust companion.</para>
/// <para><b>Source.</b> [Snedecor1934].</para>
/// </remarks>
/// <param name="Ratio">First over second standard deviation.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="PTwoSided">Two-sided p value of equal variances.</param>
public readonly record struct ScatterRatio(double Ratio, double Lower, double Upper, double PTwoSided)
{
    /// <summary>From two variances and their degrees of freedom.</summary>
    public static ScatterRatio Of(double varianceRatio, double firstDf, double secondDf, double level = 0.95)
    {
        double tail = (1 - level) / 2;
        double p = 2 * Math.Min(FisherF.Cdf(varianceRatio, firstDf, secondDf), FisherF.UpperTail(varianceRatio, firstDf, secondDf));
        return new(Math.Sqrt(varianceRatio), Math.Sqrt(varianceRatio / FisherF.Quantile(1 - tail, firstDf, secondDf)),
            Math.Sqrt(varianceRatio / FisherF.Quantile(tail, firstDf, secondDf)), p);
    }
}
