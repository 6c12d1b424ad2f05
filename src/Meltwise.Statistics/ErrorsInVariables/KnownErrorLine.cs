namespace Meltwise.Statistics.ErrorsInVariables;

/// <summary>Slope corrected for a known error variance of the abscissa: hardness read with a known error.</summary>
/// <remarks><b>Formula.</b> b = m_xy/(m_xx - σ_u²), reliability λ = (m_xx - σ_u²)/m_xx;
/// V(b) = [m_xx s_vv + b²σ_u⁴]/((n - 1)(m_xx - σ_u²)²), s_vv = (n - 1)/(n - 2)·(m_yy - 2b m_xy + b² m_xx). <b>Limits.</b> At least 4 points and a spread of x clearly beyond its error; refused where
/// λ ≤ 0. <b>Source.</b> [Fuller1987], 1.2.</remarks>
public static class KnownErrorLine
{
    /// <summary>Fits y = a + b·x with error variance of x known.</summary>
    public static KnownErrorFit Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, double errorVariance)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        int n = x.Count;
        if (n < 4) throw new InsufficientDataException($"A slope corrected for error needs at least 4 points; got {n}.");
        double mx = x.Average(), my = y.Average();
        double xx = x.Sum(v => (v - mx) * (v - mx)) / (n - 1), yy = y.Sum(v => (v - my) * (v - my)) / (n - 1), xy = x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum() / (n - 1);
        double real = xx - errorVariance;
        if (!(real > 0))
            throw new InsufficientDataException("The spread of the abscissa is no larger than its error, so no slope can be told. Measure it better, or over a wider range.");
        double slope = xy / real, scatter = (n - 1) / (n - 2.0) * (yy - 2 * slope * xy + slope * slope * xx);
        double variance = (xx * scatter + slope * slope * errorVariance * errorVariance) / ((n - 1) * real * real);
        return new(slope, my - slope * mx, Math.Sqrt(variance), Math.Sqrt(scatter / n + mx * mx * variance), xy / xx, real / xx);
    }
}

/// <summary>A line corrected for error in the abscissa.</summary>
/// <param name="Slope">Corrected slope.</param>
/// <param name="Intercept">Intercept.</param>
/// <param name="SlopeStandardError">Standard error of the slope.</param>
/// <param name="InterceptStandardError">Standard error of the intercept.</param>
/// <param name="UncorrectedSlope">Ordinary slope, flattened by the error.</param>
/// <param name="Reliability">Share of the spread of x that is real: the ordinary slope over the corrected one.</param>
public sealed record KnownErrorFit(double Slope, double Intercept, double SlopeStandardError, double InterceptStandardError, double UncorrectedSlope, double Reliability);
