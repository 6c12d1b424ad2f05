namespace Meltwise.Casework.Intake;

/// <summary>Limits within which a file is read; beyond them it is refused in words.</summary>
/// <param name="FileBytes">Largest file.</param>
/// <param name="Rows">Most rows of a sheet.</param>
/// <param name="Columns">Most columns of a sheet.</param>
/// <param name="CellCharacters">Longest cell.</param>
/// <param name="UnpackedBytes">Largest size of a workbook once unpacked.</param>
/// <param name="Faults">Most faults listed; what is beyond is counted.</param>
public sealed record TableLimits(
    long FileBytes = 200L << 20, int Rows = 1_000_000, int Columns = 500, int CellCharacters = 10_000, long UnpackedBytes = 1L << 30, int Faults = 1_000)
{
    /// <summary>The usual limits.</summary>
    public static TableLimits Usual { get; } = new();
}
