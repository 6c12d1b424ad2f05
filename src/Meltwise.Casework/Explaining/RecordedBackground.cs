using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Casework.Explaining;

/// <summary>From the bench to what the metallurgy wants to know of a heat besides its chemistry: oxygen of its route, hot history, powder.</summary>
public static class RecordedBackground
{
    /// <summary>What is recorded of a heat.</summary>
    public static HeatBackground Of(IBench bench, Heat heat)
    {
        ArgumentNullException.ThrowIfNull(bench);
        ArgumentNullException.ThrowIfNull(heat);
        HeatBackground known = new() { RouteOxygenPpm = RouteOxygenPpm(bench, heat) };
        return bench.FindHotHistory(heat.Name) is { } history
            ? known with { History = [.. history.Steps.Select(s => new ThermalStretch(s.Kind, s.FromC, s.ToC, s.Hours))], PowderDiameterM = history.LargestPowderUm / 1e6 }
            : known;
    }

    private static double[] RouteOxygenPpm(IBench bench, Heat heat)
    {
        if (heat.Route is null) return [];
        HashSet<string> peers = [.. bench.Heats().Where(h => h.Route == heat.Route && h.Name != heat.Name).Select(h => h.Name)];
        return
        [
            .. bench.Chemistry().Where(r => r.Element == "O" && peers.Contains(r.Heat)).GroupBy(r => r.Heat, StringComparer.Ordinal)
                .Select(g => MeasuredChemistry.Of(g.Key, [.. g])?["O"])
                .Where(o => o is { LimitMassPercent: null, MassPercent: > 0 }).Select(o => 1e4 * o!.MassPercent),
        ];
    }
}
