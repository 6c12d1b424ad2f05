namespace Meltwise.Casework.Intake;

/// <summary>One row of a sheet, cells as text, trimmed; a missing cell is empty.</summary>
/// <param name="Number">Row as the person counts it, from 1: the line of a text file, the row of a worksheet.</param>
/// <param name="Cells">The cells.</param>
public sealed record RawRow(int Number, string[] Cells)
{
    /// <summary>The cell, or empty beyond the end of the row.</summary>
    public string this[int column] => column < Cells.Length ? Cells[column] : "";

    /// <summary>Number of cells that hold something.</summary>
    public int Filled => Cells.Count(c => c.Length > 0);
}

/// <summary>A sheet as it was read, before anything is made of it.</summary>
/// <param name="Name">Name of the worksheet; null for a text file.</param>
/// <param name="Rows">Rows that hold something; blank ones are left out, their numbers stay used.</param>
/// <param name="Merged">Cells (row number, column from 0) that repeat the value of the merged range they lie in.</param>
public sealed record RawSheet(string? Name, IReadOnlyList<RawRow> Rows, IReadOnlySet<(int Row, int Column)> Merged);

/// <summary>A file as it was read.</summary>
/// <param name="File">Name of the file, without folder.</param>
/// <param name="Digest">SHA-256 of its bytes, hexadecimal.</param>
/// <param name="Sheets">Its sheets.</param>
/// <param name="Faults">Why it could not be read, if so.</param>
/// <param name="Notes">How it was read: encoding, separator.</param>
public sealed record RawFile(string File, string Digest, IReadOnlyList<RawSheet> Sheets, IReadOnlyList<IntakeFault> Faults, IReadOnlyList<IntakeNote> Notes);
