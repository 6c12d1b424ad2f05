using Meltwise.Publishing.Tables;

namespace Meltwise.Publishing.Packs;

/// <summary>What every column of every table means.</summary>
/// <param name="Tables">Tables.</param>
public sealed record Codebook(IReadOnlyList<CodebookTable> Tables)
{
    /// <summary>The codebook of some tables.</summary>
    public static Codebook Of(IReadOnlyList<DataTable> tables) =>
        new([.. tables.Where(t => t.Rows.Count > 0).Select(t => new CodebookTable(t.Name, t.Rows.Count, [.. t.Columns.Select(c => new CodebookColumn(c.Name, c.Kind, c.Unit, c.Meaning))]))]);
}

/// <summary>A table.</summary>
public sealed record CodebookTable(string Name, int Rows, IReadOnlyList<CodebookColumn> Columns);

/// <summary>A column.</summary>
public sealed record CodebookColumn(string Name, CellKind Kind, string? Unit, string Meaning);
