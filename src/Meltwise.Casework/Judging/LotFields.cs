using Meltwise.Imaging.Stereology;

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

/// <summary>Relative scatter of a quantity between the mounts of a heat and between the fields of a mount: <see cref="MountMean"/> of ln x.</summary>
/// <param name="BetweenMounts">Standard deviation of ln x between mounts.</param>
/// <param name="BetweenFields">Standard deviation of ln x between fields of a mount.</param>
/// <param name="Mounts">Number of mounts.</param>
/// <param name="Fields">Number of fields.</param>
public sealed record MountScatter(double BetweenMounts, double BetweenFields, int Mounts, int Fields)
{
    /// <summary>The scatter, or null where mounts and fields cannot be told apart.</summary>
    public static MountScatter? Of(LotFields fields)
    {
        ArgumentNullException.ThrowIfNull(fields);
        if (fields.ByMount is null || fields.Values.Any(v => !(v > 0))) return null;
        return MountMean.Of([.. fields.Values.Select(v => Math.Log(v))], [.. fields.Mounts.OfType<string>()]) is { } m ? new(m.BetweenMounts, m.BetweenFields, m.Mounts, m.Fields) : null;
    }
}
