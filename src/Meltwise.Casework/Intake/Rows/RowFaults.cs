namespace Meltwise.Casework.Intake;

/// <summary>The faults of one row while it is read.</summary>
internal sealed class RowFaults(FaultList all, string file, string? sheet, int row)
{
    /// <summary>True when something was wrong with the row.</summary>
    public bool Any { get; private set; }

    public void Add(string? column, string found, string expected)
    {
        Any = true;
        all.Add(new(file, sheet, row, column, found, expected));
    }
}
