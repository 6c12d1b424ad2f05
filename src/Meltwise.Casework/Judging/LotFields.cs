using Meltwise.Statistics.OneWay;

namespace Meltwise.Casework.Judging;

/// <summary>One value of each field of a heat, with the mount it lies on.</summary>
/// <param name="Values">The values.</param>
/// <param name="Mounts">Mount of each field; null when unknown.</param>
public sealed record LotFields(IReadOnlyList<double> Values, IReadOnlyList<string?> Mounts)
{
    /// <summary>Fields of which no mount is known.</summary>
    public static LotFields WithoutMounts(IReadOnlyList<double> values) => new(values, [.. values.Select(_ => (string?)null)]);

    /// <summary>The fields by mount, when every mount is known and there are at least two; otherwise null.</summary>
    public IReadOnlyList<double[]>? ByMount
    {
        get
        {
            if (Mounts.Any(m => m is null)) return null;
            double[][] groups = [.. Values.Zip(Mounts).GroupBy(p => p.Second, StringComparer.Ordinal).Select(g => g.Select(p => p.First).ToArray())];
            return groups.Length >= 2 ? groups : null;
        }
    }
}

/// <summary>Relative scatter of a quantity between the mounts of a heat and between the fields of a mount.</summary>
/// <remarks>
/// <para><b>Formula.</b> One-way analysis of variance of ln x with mounts as groups; between mounts s² = (MS between − MS within)/n₀, not below 0, with n₀ = (N − Σnᵢ²/N)/(k − 1).</para>
/// <para><b>Limits.</b> At least two mounts, one of them with two fields. With few mounts the figure is rough.</para>
/// <para><b>Source.</b> Method of moments for an unbalanced one-way layout: S. R. Searle, G. Casella, C. E. McCulloch, Variance Components, Wiley (1992), section 3.6.</para>
/// </remarks>
/// <param name="BetweenMounts">Standard deviation of ln x between mounts.</param>
/// <param name="BetweenFields">Standard deviation of ln x between fields of a mount.</param>
/// <param name="Mounts">Number of mounts.</param>
/// <param name="Fields">Number of fields.</param>
public sealed record MountScatter(double BetweenMounts, double BetweenFields, int Mounts, int Fields)
{
    /// <summary>The scatter, or null where it cannot be told apart.</summary>
    public static MountScatter? Of(LotFields fields)
    {
        ArgumentNullException.ThrowIfNull(fields);
        if (fields.ByMount is not { } mounts || mounts.All(m => m.Length < 2) || fields.Values.Any(v => !(v > 0))) return null;
        AnovaTable table = OneWayAnova.Fit([.. mounts.Select(m => m.Select(v => Math.Log(v)).ToArray())]);
        double all = mounts.Sum(m => m.Length), size = (all - mounts.Sum(m => (double)m.Length * m.Length) / all) / (mounts.Count - 1);
        return new(Math.Sqrt(Math.Max(0, (table.Between.MeanSquare - table.Within.MeanSquare) / size)), table.ResidualStandardDeviation, mounts.Count, (int)all);
    }
}
