namespace Meltwise.Publishing.Tables;

/// <summary>What a column holds.</summary>
public enum CellKind
{
    /// <summary>Text.</summary>
    Text,

    /// <summary>A number.</summary>
    Number,

    /// <summary>A reading as typed: a number, or a bound such as <c>&gt;120</c>.</summary>
    Reading,
}

/// <summary>A column of a data table, as the codebook describes it.</summary>
/// <param name="Name">Heading, with its unit in brackets.</param>
/// <param name="Kind">What it holds.</param>
/// <param name="Meaning">What it means.</param>
/// <param name="Unit">Unit, or null.</param>
public sealed record DataColumn(string Name, CellKind Kind, string Meaning, string? Unit = null);

/// <summary>A table of data to be shared: headings, and cells as text. Null is unknown and is written as an empty cell.</summary>
/// <param name="Name">Name of the table, used for its files.</param>
/// <param name="Columns">Columns.</param>
/// <param name="Rows">Rows, each as long as <paramref name="Columns"/>.</param>
public sealed record DataTable(string Name, IReadOnlyList<DataColumn> Columns, IReadOnlyList<IReadOnlyList<string?>> Rows);
