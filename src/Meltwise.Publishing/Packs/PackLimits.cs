namespace Meltwise.Publishing.Packs;

/// <summary>Limits within which a pack from elsewhere is read.</summary>
public sealed record PackLimits
{
    /// <summary>Most files.</summary>
    public int Files { get; init; } = 2000;

    /// <summary>Most bytes of all files unpacked.</summary>
    public long TotalBytes { get; init; } = 512L * 1024 * 1024;

    /// <summary>Most bytes of one file unpacked.</summary>
    public long FileBytes { get; init; } = 128L * 1024 * 1024;

    /// <summary>Most bytes unpacked for each byte packed, above the first megabyte.</summary>
    public double Expansion { get; init; } = 200;

    /// <summary>Most rows of a table.</summary>
    public int Rows { get; init; } = 1_000_000;
}
