using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>Analyses invented heats twice: the source's certificate, and two laboratories of the punch maker's choice.</summary>
internal sealed class DemonstrationChemistry(NormalDraws draws)
{
    /// <summary>Method, format and standard deviation of one result, in the unit printed. Invented, of the size the handbook names for good laboratories.</summary>
    private static readonly Dictionary<string, (string Method, string Laboratory, string Unit, string Format, double Sd)> s_own = new(StringComparer.Ordinal)
    {
        ["C"] = ("combustion", "gas laboratory", "wt%", "0.000", 0.008),
        ["S"] = ("combustion", "gas laboratory", "wt%", "0.0000", 0.0004),
        ["O"] = ("inert gas fusion", "gas laboratory", "ppm", "0", 3),
        ["N"] = ("inert gas fusion", "gas laboratory", "ppm", "0", 10),
        ["Cr"] = ("spark OES", "metal laboratory", "wt%", "0.00", 0.03),
        ["Mo"] = ("spark OES", "metal laboratory", "wt%", "0.00", 0.04),
        ["V"] = ("spark OES", "metal laboratory", "wt%", "0.00", 0.03),
        ["W"] = ("spark OES", "metal laboratory", "wt%", "0.00", 0.06),
        ["Mn"] = ("spark OES", "metal laboratory", "wt%", "0.00", 0.01),
        ["Si"] = ("spark OES", "metal laboratory", "wt%", "0.00", 0.01),
        ["P"] = ("spark OES", "metal laboratory", "wt%", "0.000", 0.001),
    };

    public IEnumerable<BenchChange> Of(DemonstrationHeat heat, bool ownAnalysis)
    {
        foreach ((string element, double massPercent) in heat.MassPercent)
        {
            if (element is not ("O" or "N"))
            {
                double spread = Math.Max(0.0005, massPercent * 0.008);
                yield return Result(heat, element, draws.Next(massPercent, spread), element == "S" ? "0.0000" : massPercent < 0.1 ? "0.000" : "0.00", "wt%", "certificate", heat.Source, null);
            }
            if (!ownAnalysis) continue;
            (string method, string laboratory, string unit, string format, double sd) = s_own[element];
            double truth = unit == "ppm" ? massPercent * 1e4 : massPercent;
            yield return Result(heat, element, draws.Next(truth, sd), format, unit, method, laboratory, 2 * sd);
        }
        if (ownAnalysis)
            yield return new BenchChange.PutChemistry(new(heat.Name, "Ti", new(0.005, "wt%", Censoring.Below, "<0.005"), "spark OES", "metal laboratory", Date: heat.Received.AddDays(20)));
    }

    private static BenchChange.PutChemistry Result(DemonstrationHeat heat, string element, double value, string format, string unit, string method, string laboratory, double? expanded)
    {
        string typed = Math.Max(0, value).ToString(format, CultureInfo.InvariantCulture);
        CensoredValue figure = new(double.Parse(typed, CultureInfo.InvariantCulture), unit, Censoring.None, typed);
        return new(new ChemistryResult(heat.Name, element, figure, method, laboratory, expanded, expanded is null ? null : 2, heat.Received.AddDays(method == "certificate" ? 0 : 20)));
    }
}
