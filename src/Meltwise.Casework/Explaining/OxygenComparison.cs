using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Oxides;

namespace Meltwise.Casework.Explaining;

/// <summary>Oxygen of two heats, what it means in oxide, and where each stands among the bench's heats of its route.</summary>
/// <param name="Reference">The reference heat.</param>
/// <param name="Candidate">The candidate heat.</param>
/// <param name="Notes">Assumptions and limits.</param>
public sealed record OxygenComparison(HeatOxygen Reference, HeatOxygen Candidate, IReadOnlyList<string> Notes)
{
    /// <summary>The oxide taken when nothing is known of the deoxidation practice.</summary>
    internal const string AssumedOxide = "Al2O3";

    /// <summary>The comparison, or null when the oxygen of a heat was not measured.</summary>
    public static OxygenComparison? Of(IBench bench, string referenceHeat, string candidateHeat)
    {
        IReadOnlyList<Domain.ChemistryResult> oxygen = [.. bench.Chemistry().Where(c => c.Element == "O" && c.Typed.Censoring == Censoring.None)];
        Dictionary<string, string?> routes = bench.Heats().ToDictionary(h => h.Name, h => h.Route, StringComparer.Ordinal);
        if (HeatOxygen.Of(referenceHeat, oxygen, routes) is not { } reference || HeatOxygen.Of(candidateHeat, oxygen, routes) is not { } candidate) return null;
        OxideFractionResult oxide = OxideFraction.Of(reference.Ppm, OxideFraction.Named(AssumedOxide));
        return new(reference, candidate, [.. oxide.Notes, "With two heats, oxygen is a hypothesis for a difference in toughness, not its cause."]);
    }
}

/// <summary>Oxygen of a heat.</summary>
/// <param name="Heat">The heat.</param>
/// <param name="Ppm">Total oxygen, ppm by mass.</param>
/// <param name="OxideVolumePercent">As oxide, volume percent.</param>
/// <param name="Rank">Rank among the bench's heats of its route, 1 the lowest.</param>
/// <param name="Peers">Heats of its route with measured oxygen, this one among them.</param>
/// <param name="Route">Its route.</param>
public sealed record HeatOxygen(string Heat, double Ppm, double OxideVolumePercent, int Rank, int Peers, string? Route)
{
    internal static HeatOxygen? Of(string heat, IReadOnlyList<Domain.ChemistryResult> oxygen, Dictionary<string, string?> routes)
    {
        string? route = routes.GetValueOrDefault(heat);
        Dictionary<string, double> peers = oxygen.Where(o => routes.GetValueOrDefault(o.Heat) == route)
            .GroupBy(o => o.Heat, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.Average(InPpm), StringComparer.Ordinal);
        return peers.TryGetValue(heat, out double ppm)
            ? new(heat, ppm, OxideFraction.Of(ppm, OxideFraction.Named(OxygenComparison.AssumedOxide)).VolumePercent, 1 + peers.Values.Count(v => v < ppm), peers.Count, route)
            : null;
    }

    private static double InPpm(Domain.ChemistryResult result) => result.Typed.Unit == "ppm" ? result.Typed.Value : result.Typed.Value * 1e4;
}
