using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Comparison;

/// <summary>Interval of the ratio of two arithmetic means, without logarithms.</summary>
/// <remarks><b>Formula.</b> All ρ with (ȳ₁ - ρȳ₂)² ≤ t²(V₁ + ρ²V₂); with separate variances ν is Satterthwaite's at the ratio seen. <b>Limits.</b> Bounded only while the denominator's mean is
/// clearly not 0 (g &lt; 1). <b>Source.</b> [Fieller1954].</remarks>
public static class FiellerRatio
{
    /// <summary>The interval of mean(numerator)/mean(denominator).</summary>
    /// <param name="numerator">Readings of the numerator.</param>
    /// <param name="denominator">Readings of the denominator.</param>
    /// <param name="level">Coverage.</param>
    /// <param name="pooled">True for one common variance.</param>
    public static FiellerResult Of(IReadOnlyList<double> numerator, IReadOnlyList<double> denominator, double level = 0.95, bool pooled = false)
    {
        ArgumentNullException.ThrowIfNull(numerator);
        ArgumentNullException.ThrowIfNull(denominator);
        if (numerator.Count < 2 || denominator.Count < 2)
            throw new InsufficientDataException($"A ratio of means needs at least 2 readings on both sides; got {numerator.Count} and {denominator.Count}.");
        (double m1, double s1, int n1) = Moments(numerator);
        (double m2, double s2, int n2) = Moments(denominator);
        double ratio = m1 / m2, df = n1 + n2 - 2;
        if (pooled) s1 = s2 = ((n1 - 1) * s1 + (n2 - 1) * s2) / df;
        double v1 = s1 / n1, v2 = s2 / n2;
        if (!pooled)
        {
            double a = v1, b = ratio * ratio * v2;
            df = (a + b) * (a + b) / (a * a / (n1 - 1) + b * b / (n2 - 1));
        }
        double t = StudentT.Quantile(0.5 + level / 2, df), g = t * t * v2 / (m2 * m2);
        if (g >= 1) return new(ratio, double.NegativeInfinity, double.PositiveInfinity, df, g);
        double half = t / Math.Abs(m2) * Math.Sqrt((1 - g) * v1 + ratio * ratio * v2);
        return new(ratio, (ratio - half) / (1 - g), (ratio + half) / (1 - g), df, g);
    }

    private static (double Mean, double Variance, int N) Moments(IReadOnlyList<double> y)
    {
        double mean = y.Average();
        return (mean, y.Sum(v => (v - mean) * (v - mean)) / (y.Count - 1), y.Count);
    }
}

/// <summary>Interval of a ratio of means.</summary>
/// <param name="Ratio">Ratio of the means.</param>
/// <param name="Lower">Lower limit; minus infinity where unbounded.</param>
/// <param name="Upper">Upper limit; infinity where unbounded.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom.</param>
/// <param name="G">t²V₂/ȳ₂²: below 1 the interval is bounded.</param>
public sealed record FiellerResult(double Ratio, double Lower, double Upper, double DegreesOfFreedom, double G);
