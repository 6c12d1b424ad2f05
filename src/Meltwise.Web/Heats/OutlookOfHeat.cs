using System.Globalization;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Web.Heats;

/// <summary>What the chemistry of a recorded heat lets one expect, with the hot history that was typed in, if any.</summary>
/// <param name="Outlook">The outlook, or null when no chemistry is recorded or none could be computed.</param>
/// <param name="Fault">What could not be answered and why, in words; null when all was.</param>
internal sealed record OutlookOfHeat(HeatOutlookResult? Outlook, string? Fault)
{
    private const double ColdestSoakC = 900, HottestSoakC = 1250, LongestSoakH = 500, FinestPowderUm = 10, CoarsestPowderUm = 1000;

    /// <summary>Computes it.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="heat">The heat.</param>
    /// <param name="soakC">Temperature of the hot soak as typed, °C; empty when not known.</param>
    /// <param name="hours">Its time as typed, h.</param>
    /// <param name="powderUm">Sieve of the powder as typed, µm; empty when not powder or not known.</param>
    public static OutlookOfHeat Of(IBench bench, Heat heat, string? soakC, string? hours, string? powderUm)
    {
        if (MeasuredChemistry.Of(heat.Name, bench.Chemistry(heat.Name)) is not { } chemistry)
        {
            return new(null, null);
        }

        HeatBackground known = new() { RouteOxygenPpm = RouteOxygenPpm(bench, heat) };
        List<string> faults = [];
        double? powder = Typed(powderUm, "The powder's sieve", FinestPowderUm, CoarsestPowderUm, "µm", faults);
        double? soak = Typed(soakC, "The soak", ColdestSoakC + 1, HottestSoakC, "°C", faults);
        double? time = Typed(hours, "The time of the soak", 0.01, LongestSoakH, "h", faults);
        if (faults.Count == 0 && (soak is null) != (time is null))
        {
            faults.Add("A soak needs its temperature and its time.");
        }

        HeatBackground typed = known with
        {
            PowderDiameterM = powder / 1e6,
            History = soak is { } c && time is { } h ? [new ThermalStretch("soak", c, c, h)] : [],
        };
        return faults.Count > 0 ? TryOf(chemistry, known, null) with { Fault = string.Join(' ', faults) } : TryOf(chemistry, typed, known);
    }

    // When the history cannot be computed with, the rest is still said.
    private static OutlookOfHeat TryOf(HeatChemistry chemistry, HeatBackground background, HeatBackground? otherwise)
    {
        try
        {
            return new(HeatOutlook.Of(chemistry, background), null);
        }
        catch (Exception refused) when (refused is OutsideModelRangeException or EquilibriumRefusedException or SteelCompositionException)
        {
            string why = refused is OutsideModelRangeException range
                ? string.Create(CultureInfo.InvariantCulture, $"{range.Model}: {range.Quantity} is {range.Found:G4} {range.Unit}; the model covers {range.Lowest:G4} to {range.Highest:G4} {range.Unit}.")
                : refused.Message;
            return otherwise is null ? new(null, why) : TryOf(chemistry, otherwise, null) with { Fault = why };
        }
    }

    private static double[] RouteOxygenPpm(IBench bench, Heat heat)
    {
        if (heat.Route is null)
        {
            return [];
        }

        HashSet<string> peers = [.. bench.Heats().Where(h => h.Route == heat.Route && h.Name != heat.Name).Select(h => h.Name)];
        return
        [
            .. bench.Chemistry().Where(r => r.Element == "O" && peers.Contains(r.Heat)).GroupBy(r => r.Heat, StringComparer.Ordinal)
                .Select(g => MeasuredChemistry.Of(g.Key, [.. g])?["O"])
                .Where(o => o is { LimitMassPercent: null, MassPercent: > 0 }).Select(o => 1e4 * o!.MassPercent),
        ];
    }

    private static double? Typed(string? text, string what, double low, double high, string unit, List<string> faults)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        if (double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value >= low && value <= high)
        {
            return value;
        }

        faults.Add(string.Create(CultureInfo.InvariantCulture, $"{what} is “{text}”; expected a number from {low:0.##} to {high:0.##} {unit}."));
        return null;
    }
}
