using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Writes chemistry results as CSV that intake reads back to the same results.</summary>
public static class ChemistryTableText
{
    /// <summary>Writes heading and rows.</summary>
    /// <param name="results">The results, in the order wanted.</param>
    /// <param name="to">Where to.</param>
    public static void Write(IEnumerable<ChemistryResult> results, TextWriter to)
    {
        DelimitedWriter.WriteLine(to, ["heat", "element", "value", "unit", "method", "laboratory", "uncertainty", "coverage factor", "date"]);
        foreach (ChemistryResult result in results)
            DelimitedWriter.WriteLine(to, [
                DelimitedWriter.Safe(result.Heat), result.Element, Figure(result.Typed), result.Typed.Unit, DelimitedWriter.Safe(result.Method), DelimitedWriter.Safe(result.Laboratory),
                Number(result.ExpandedUncertainty), Number(result.CoverageFactor), result.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            ]);
    }

    private static string Figure(CensoredValue typed) => typed.Text.Length > 0 && typed.Text[0] is '<' or '>'
        ? typed.Text
        : typed.Censoring switch { Censoring.Below => "<", Censoring.Above => ">", _ => "" } + typed.Text;

    private static string? Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture);
}
