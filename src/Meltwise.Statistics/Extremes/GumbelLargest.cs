using MathNet.Numerics.RootFinding;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Extremes;

/// <summary>Largest particle or inclusion of each inspected area, and the largest to expect in a larger one.</summary>
/// <remarks>
/// <para><b>Model.</b> Gumbel: F(x) = exp(-exp(-(x - λ)/δ)). Maximum likelihood; the level of return period T is λ + δ·y with y = -ln(-ln(1 - 1/T)), T the reference area over
/// the area of one field. Standard errors by the delta method, from the observed or the expected information.</para>
/// <para><b>Limits.</b> At least 6 areas of one size, one maximum each (24 are usual); maxima that come from one population.</para>
/// <para><b>Source.</b> Method of [ASTM-E2283]; [Coles2001], ch. 3.</para>
/// </remarks>
public static class GumbelLargest
{
    /// <summary>Fewest areas of a fit.</summary>
    public const int FewestAreas = 6;

    /// <summary>Fits the maxima of equal areas.</summary>
    public static GumbelFit Fit(IReadOnlyList<double> maxima)
    {
        ArgumentNullException.ThrowIfNull(maxima);
        if (maxima.Count < FewestAreas) throw new InsufficientDataException($"An extreme-value fit needs at least {FewestAreas} areas, 24 by common practice; got {maxima.Count}.");
        double[] x = [.. maxima];
        double mean = x.Average(), sd = Math.Sqrt(x.Sum(v => (v - mean) * (v - mean)) / (x.Length - 1));
        if (sd == 0) throw new InsufficientDataException("All areas show the same largest value, so nothing can be extrapolated.");
        double momentScale = sd * Math.Sqrt(6) / Math.PI;
        double Equation(double scale)
        {
            double low = x.Min(), sum = 0, weighted = 0;
            foreach (double v in x)
            {
                double w = Math.Exp(-(v - low) / scale);
                sum += w;
                weighted += v * w;
            }
            return mean - scale - weighted / sum;
        }
        double high = 2 * momentScale;
        while (Equation(high) > 0) high *= 2;
        double lower = 0.3 * momentScale;
        while (Equation(lower) < 0) lower /= 2;
        double scale = Brent.FindRoot(Equation, lower, high, 1e-15 * high, 300);
        double shift = x.Min(), location = shift - scale * Math.Log(x.Average(v => Math.Exp(-(v - shift) / scale)));
        return GumbelFit.Of(x, location, scale);
    }

    /// <summary>Likelihood-ratio test that two lots share one distribution of the largest; χ² with 2 degrees of freedom.</summary>
    public static (double Statistic, double P) SameDistribution(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        double statistic = 2 * (Fit(first).LogLikelihood + Fit(second).LogLikelihood - Fit([.. first, .. second]).LogLikelihood);
        return (statistic, ChiSquared.UpperTail(statistic, 2));
    }
}

/// <summary>A fitted Gumbel distribution of maxima.</summary>
/// <param name="Location">λ, the mode.</param>
/// <param name="Scale">δ.</param>
/// <param name="LogLikelihood">Log-likelihood at the maximum.</param>
/// <param name="ObservedCovariance">Variance of λ, covariance, variance of δ, from the observed information.</param>
/// <param name="ExpectedCovariance">The same from the expected information, as the standard's tables have it.</param>
/// <param name="Areas">Number of areas.</param>
public sealed record GumbelFit(double Location, double Scale, double LogLikelihood, (double Location, double Cross, double Scale) ObservedCovariance,
    (double Location, double Cross, double Scale) ExpectedCovariance, int Areas)
{
    private const double EulerGamma = 0.57721566490153286;

    internal static GumbelFit Of(double[] x, double location, double scale)
    {
        double log = 0, aa = 0, ab = 0, bb = 0;
        foreach (double v in x)
        {
            double z = (v - location) / scale, e = Math.Exp(-z);
            log += -Math.Log(scale) - z - e;
            aa += e;
            ab += 1 - e + z * e;
            bb += -1 + 2 * z * (1 - e) + z * z * e;
        }
        double s2 = scale * scale, n = x.Length, determinant = aa * bb - ab * ab;
        double expectedAb = -(1 - EulerGamma), expectedBb = Math.PI * Math.PI / 6 + (1 - EulerGamma) * (1 - EulerGamma), expected = expectedBb - expectedAb * expectedAb;
        return new(location, scale, log, (s2 * bb / determinant, -s2 * ab / determinant, s2 * aa / determinant),
            (s2 * expectedBb / (n * expected), -s2 * expectedAb / (n * expected), s2 / (n * expected)), x.Length);
    }

    /// <summary>Level that one area in T exceeds, with its standard error.</summary>
    /// <param name="returnPeriod">T: reference area over the area of one field, above 1.</param>
    /// <param name="expected">True for the expected information.</param>
    public (double Level, double StandardError) ReturnLevel(double returnPeriod, bool expected = false)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(returnPeriod, 1);
        double y = Reduced(returnPeriod);
        (double a, double ab, double b) = expected ? ExpectedCovariance : ObservedCovariance;
        return (Location + Scale * y, Math.Sqrt(a + 2 * y * ab + y * y * b));
    }

    /// <summary>Interval of the level that one area in T exceeds, exact for the number of areas. Two standard errors, as the standard has it, cover 87 to 93 % with 12 to 48 areas.</summary>
    public (double Lower, double Upper) ReturnLevelInterval(double returnPeriod, double level)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(returnPeriod, 1);
        return GumbelPivots.Level(Location, Scale, Areas, Reduced(returnPeriod), level);
    }

    private static double Reduced(double returnPeriod) => -Math.Log(-Math.Log(1 - 1 / returnPeriod));
}
