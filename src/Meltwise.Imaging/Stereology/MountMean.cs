using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.OneWay;

namespace Meltwise.Imaging.Stereology;

/// <summary>Mean of a measure over fields that lie on several mounts, with the scatter from mount to mount and from field to field told apart.</summary>
/// <remarks>
/// <para><b>Formula.</b> The sample is the mean of each mount: μ their mean, interval μ ± t s/√k on k - 1 degrees of freedom, k mounts. Fields of one mount are alike, so that many fields of few mounts say less than their number.
/// Components by analysis of variance with mounts as groups: fields s_f² = MS within; mounts s_m² = (MS between - MS within)/n₀, not below 0, n₀ = (N - Σn²/N)/(k - 1).</para>
/// <para><b>Assumptions.</b> Mounts from random places of the bar (blocks cut side by side are one place), about the same number of fields on each.</para>
/// <para><b>Limits.</b> At least two mounts, one of them with two fields. With fewer than five mounts the interval is wide and the scatter between them hardly known: a note says so.</para>
/// <para><b>Source.</b> Unbalanced one-way layout: S. R. Searle, G. Casella, C. E. McCulloch, Variance Components, Wiley (1992), section 3.6. Nested sampling of fields in specimens: ASTM E1245, from memory.</para>
/// </remarks>
public static class MountMean
{
    private const double Level = 0.95;
    private const int FewMounts = 5;

    /// <summary>Summary of one measure; null where the mounts cannot be told apart from the fields: one mount, or one field a mount.</summary>
    /// <param name="fields">One value a field.</param>
    /// <param name="mounts">Name of the mount of each field.</param>
    public static MountSummary? Of(IReadOnlyList<double> fields, IReadOnlyList<string> mounts)
    {
        ArgumentNullException.ThrowIfNull(fields);
        ArgumentNullException.ThrowIfNull(mounts);
        if (fields.Count != mounts.Count) throw new ArgumentException("Each field needs the name of its mount.", nameof(mounts));
        double[][] groups = [.. fields.Zip(mounts).GroupBy(p => p.Second, StringComparer.Ordinal).Select(g => g.Select(p => p.First).ToArray())];
        if (groups.Length < 2 || groups.All(g => g.Length < 2)) return null;
        int k = groups.Length;
        double[] means = [.. groups.Select(g => g.Average())];
        double mean = means.Average(), error = Math.Sqrt(means.Sum(m => (m - mean) * (m - mean)) / (k - 1) / k), half = StudentT.Quantile(0.5 + Level / 2, k - 1) * error;
        AnovaTable table = OneWayAnova.Fit(groups);
        double all = fields.Count, size = (all - groups.Sum(g => (double)g.Length * g.Length) / all) / (k - 1);
        double between = Math.Sqrt(Math.Max(0, (table.Between.MeanSquare - table.Within.MeanSquare) / size));
        List<string> notes = [];
        if (k < FewMounts) notes.Add($"{k} mounts: how much mounts differ is known from few of them, so the interval is wide.");
        if (groups.Any(g => g.Length != groups[0].Length)) notes.Add("The mounts have different numbers of fields but count alike.");
        return new(k, fields.Count, new(mean, mean - half, mean + half, Level, "Student t over mounts, each by the mean of its fields"), error, between, table.ResidualStandardDeviation,
            mean != 0 ? 100 * half / Math.Abs(mean) : null, notes);
    }
}

/// <summary>Mean over fields nested in mounts.</summary>
/// <param name="Mounts">Number of mounts.</param>
/// <param name="Fields">Number of fields.</param>
/// <param name="Mean">Mean with its interval.</param>
/// <param name="StandardError">Standard error of the mean.</param>
/// <param name="BetweenMounts">Standard deviation from mount to mount.</param>
/// <param name="BetweenFields">Standard deviation from field to field within a mount.</param>
/// <param name="RelativeAccuracyPercent">Half width of the interval as a percentage of the mean; null for a mean of 0.</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record MountSummary(int Mounts, int Fields, Interval Mean, double StandardError, double BetweenMounts, double BetweenFields, double? RelativeAccuracyPercent, IReadOnlyList<string> Notes);
