using System.Globalization;

namespace Meltwise.Casework.Intake;

/// <summary>Collects the faults of a file, keeps the first thousand, and knows which rows have one.</summary>
internal sealed class FaultList(string file, int most)
{
    private readonly List<IntakeFault> _faults = [];
    private int _beyond;

    public void Add(IntakeFault fault)
    {
        if (_faults.Count < most) _faults.Add(fault);
        else _beyond++;
    }

    public IReadOnlyList<IntakeFault> All => _beyond == 0
        ? _faults
        : [.. _faults, new(file, null, null, null, string.Create(CultureInfo.InvariantCulture, $"{_beyond} more faults"), "the listed ones to be mended first")];
}
