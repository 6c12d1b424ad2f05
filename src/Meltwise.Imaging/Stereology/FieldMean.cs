using Meltwise.Statistics.Distributions;

namespace Meltwise.Imaging.Stereology;

/// <summary>Mean of a measure over fields, with its confidence interval and relative accuracy.</summary>
/// <remarks>
/// <para><b>Formula.</b> 95 % CI = t s/√n on n - 1 degrees of freedom; relative accuracy % RA = 100 · CI / mean.</para>
/// <para><b>Assumptions.</b> Fields placed independently of the structure, all of one size. The fields are the sample, not the particles in them. Usual numbers of fields: 30 or more for point counts, 100 for automatic analysis.</para>
/// <para><b>Source.</b> ASTM E562 (point count) and ASTM E1245 (automatic image analysis), from memory for the usual numbers of fields.</para>
/// </remarks>
public static class FieldMean
{
    /// <summary>Summary of one measure over fields; the standard deviation and interval are null with a single field.</summary>
    /// <param name="fields">One value a field.</param>
    /// <exception cref="ArgumentException">No fields.</exception>
    public static FieldSummary Of(IReadOnlyList<double> fields)
    {
        ArgumentNullException.ThrowIfNull(fields);
        if (fields.Count == 0) throw new ArgumentException("A mean over fields needs at least one field.", nameof(fields));
        double mean = fields.Average();
        if (fields.Count == 1) return new(1, mean, null, null, null);
        double s = Math.Sqrt(fields.Sum(v => (v - mean) * (v - mean)) / (fields.Count - 1));
        double half = StudentT.Quantile(0.975, fields.Count - 1) * s / Math.Sqrt(fields.Count);
        return new(fields.Count, mean, s, half, mean != 0 ? 100 * half / Math.Abs(mean) : null);
    }
}

/// <summary>Mean over fields.</summary>
/// <param name="Fields">Number of fields.</param>
/// <param name="Mean">Mean.</param>
/// <param name="StandardDeviation">Standard deviation between fields.</param>
/// <param name="HalfWidth95">Half width of the 95 % confidence interval of the mean.</param>
/// <param name="RelativeAccuracyPercent">Half width as a percentage of the mean.</param>
public sealed record FieldSummary(int Fields, double Mean, double? StandardDeviation, double? HalfWidth95, double? RelativeAccuracyPercent);
