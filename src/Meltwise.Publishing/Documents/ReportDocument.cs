namespace Meltwise.Publishing.Documents;

/// <summary>A document as blocks, from which page and print are written.</summary>
public sealed record ReportDocument
{
    /// <summary>Title for the file's own data.</summary>
    public required string Title { get; init; }

    /// <summary>Left of the foot of every page: program, enquiry, version.</summary>
    public required string Foot { get; init; }

    /// <summary>The blocks in order.</summary>
    public required IReadOnlyList<Block> Blocks { get; init; }

    /// <summary>Names that must not appear anywhere in it; empty for the full version.</summary>
    public IReadOnlyList<string> PrivateNames { get; init; } = [];

    /// <summary>What stands in their place.</summary>
    public IReadOnlyList<string> PublicLabels { get; init; } = [];
}
