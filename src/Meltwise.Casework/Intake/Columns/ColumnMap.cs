namespace Meltwise.Casework.Intake;

/// <summary>The user's word on a column: what a heading stands for.</summary>
/// <param name="Heading">The heading in the file, compared without case.</param>
/// <param name="Meaning">What it stands for, written as a heading of ours: <c>impact energy [J]</c>; empty or <c>-</c> means not to read it.</param>
public sealed record ColumnMap(string Heading, string Meaning)
{
    /// <summary>Reads <c>Energy=impact energy [J]</c>. The last equals sign outside brackets parts the two.</summary>
    /// <returns>Null when the text has no equals sign or no heading.</returns>
    public static ColumnMap? Read(string text)
    {
        int at = text.LastIndexOf('=');
        return at <= 0 ? null : new(text[..at].Trim(), text[(at + 1)..].Trim());
    }

    /// <summary>True when the column is not to be read.</summary>
    public bool IsNotRead => Meaning is "" or "-" or "not read";
}
