namespace Meltwise.Publishing.Packs;

/// <summary>A pack cannot be read. Each fault is fit for a reader: where, what was found, what was expected.</summary>
public sealed class PackFaultException(IReadOnlyList<string> faults) : Exception(string.Join(Environment.NewLine, faults))
{
    /// <summary>All faults.</summary>
    public IReadOnlyList<string> Faults { get; } = faults;
}
