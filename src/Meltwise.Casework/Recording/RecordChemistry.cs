using System.Globalization;
using Meltwise.Casework.Intake;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Records a chemistry result. Two methods for one element are both kept.</summary>
public sealed class RecordChemistry(IBench bench)
{
    /// <summary>Adds a result, or corrects the one of the same heat, element, method, laboratory and day with a reason.</summary>
    public Outcome<ChemistryResult> Run(ChemistryResult result, Hand hand, string? why = null)
    {
        string[] faults = [.. FaultsOf(result)];
        if (faults.Length > 0) return Outcome<ChemistryResult>.Refused(faults);
        ChemistryResult[] others = [.. bench.Chemistry(result.Heat).Where(c => c.Element == result.Element && c.Method != result.Method)];
        bench.Commit(hand.By, why, [new BenchChange.PutChemistry(result)]);
        return Outcome<ChemistryResult>.Stored(result, others.Select(o => Disagreement(result, o)).OfType<Finding>());
    }

    private static IEnumerable<string> FaultsOf(ChemistryResult result)
    {
        if (ChemicalElements.Find(result.Element) != result.Element) yield return $"\"{result.Element}\" is no symbol of an element, e.g. Cr.";
        if (result.Typed.Unit is not ("wt%" or "ppm")) yield return $"The unit {result.Typed.Unit} was given; expected wt% or ppm (by mass).";
        double percent = result.Typed.Unit == "ppm" ? result.Typed.Value / 1e4 : result.Typed.Value;
        if (!(percent is >= 0 and <= 100)) yield return $"{result.Typed} was given; expected 0 to 100 % by mass.";
        if (result.ExpandedUncertainty is <= 0 || result.CoverageFactor is <= 0) yield return "An uncertainty and its coverage factor lie above 0.";
    }

    // Beyond the combined uncertainty: |x - y| > 2·√(u² + v²), the usual k = 2 of a difference (JCGM 100, from memory).
    private static Finding? Disagreement(ChemistryResult a, ChemistryResult b)
    {
        if (a.Result is not ElementResult.Quantified x || b.Result is not ElementResult.Quantified y) return null;
        double combined = Math.Sqrt((x.StandardUncertainty * x.StandardUncertainty) + (y.StandardUncertainty * y.StandardUncertainty));
        return Math.Abs(x.MassPercent - y.MassPercent) > 2 * combined
            ? Finding.Warning(string.Create(CultureInfo.InvariantCulture, $"{a.Element} by {b.Method ?? "another method"} is {b.Typed}; the two differ by more than their combined uncertainty ({2 * combined:G2} wt%)."))
            : null;
    }
}
