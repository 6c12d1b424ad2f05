using System.Globalization;
using System.Text.Json.Serialization;

namespace Meltwise.Casework.Intake;

/// <summary>Something in a file that is wrong: where it is, what was found there, what was expected.</summary>
/// <param name="File">Name of the file.</param>
/// <param name="Sheet">Sheet of a workbook; null for text files.</param>
/// <param name="Row">Row as the person counts it, from 1; null when the whole file or sheet is meant.</param>
/// <param name="Column">Heading of the column; null when the whole row is meant.</param>
/// <param name="Found">What stands there.</param>
/// <param name="Expected">What was expected.</param>
public sealed record IntakeFault(string File, string? Sheet, int? Row, string? Column, string Found, string Expected)
{
    /// <summary>As one line.</summary>
    public override string ToString() => $"{Place}: found {Found}; expected {Expected}.";

    /// <summary>File, sheet, row and column, as far as they are known.</summary>
    [JsonIgnore]
    public string Place => string.Join(", ", new[]
    {
        File, Sheet is null ? null : $"sheet {Sheet}", Row is { } r ? string.Create(CultureInfo.InvariantCulture, $"row {r}") : null, Column is null ? null : $"column {Column}",
    }.Where(p => p is not null));
}

/// <summary>Something the reader should know that is no fault: a line taken as a note, an encoding that was guessed, a coupon without hardness.</summary>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="Row">Row from 1, or null.</param>
/// <param name="Text">What it is, in words.</param>
public sealed record IntakeNote(string? Sheet, int? Row, string Text);
