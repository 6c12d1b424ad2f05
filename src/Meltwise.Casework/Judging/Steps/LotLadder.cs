using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>A level of a ladder: the coupons of one heat at one treatment.</summary>
/// <param name="Heat">Index of the heat in the lots.</param>
/// <param name="IsCandidate">Its role.</param>
/// <param name="Treatment">The treatment.</param>
/// <param name="Places">Its coupons, as places in the lots.</param>
/// <param name="Hardness">Mean hardness of its coupons, HRC; NaN when none was read.</param>
internal sealed record LadderLevel(int Heat, bool IsCandidate, string Treatment, IReadOnlyList<int> Places, double Hardness);

/// <summary>The lots by treatment, where every heat of both was tested over a ladder of treatments.</summary>
internal sealed class LotLadder
{
    private const int FewestLevels = 2;

    private LotLadder(IReadOnlyList<LadderLevel> levels) => Levels = levels;

    /// <summary>Levels, reference first, softest first within a heat.</summary>
    public IReadOnlyList<LadderLevel> Levels { get; }

    /// <summary>The ladder of the lots; null, with the reason where some heat has several treatments, when there is none.</summary>
    /// <remarks>All coupons must agree in all that makes a stratum but the treatment, and in the temper family; at least two treatments must be common to every heat.</remarks>
    public static (LotLadder? Ladder, string? Missing) Of(LotData lots)
    {
        ILookup<int, string?> treatments = Enumerable.Range(0, lots.Coupons.Count).ToLookup(i => lots.Heat[i], i => lots.Coupons[i].Row.Treatment);
        if (treatments.All(h => h.Distinct(StringComparer.OrdinalIgnoreCase).Count() < FewestLevels)) return (null, null);
        if (StratumCheck.DifferencesBesideTreatment(lots.Coupons) is { Count: > 0 } others) return (null, $"The coupons of a temper ladder must be of one kind but for the treatment: {string.Join("; ", others)}.");
        if (lots.Coupons.Any(c => c.Row.Treatment is null)) return (null, "The treatment of some coupons is unknown, so that they stand on no level of a temper ladder.");
        IEnumerable<string> common = treatments.Select(h => h.OfType<string>()).Aggregate((a, b) => a.Intersect(b, StringComparer.OrdinalIgnoreCase));
        int shared = common.Distinct(StringComparer.OrdinalIgnoreCase).Count();
        return shared < FewestLevels
            ? (null, $"A temper ladder takes at least {FewestLevels} treatments that both lots have; these have {(shared == 0 ? "none" : "one")} in common. Test coupons of both lots at the same tempers.")
            : (new(Gather(lots)), null);
    }

    private static LadderLevel[] Gather(LotData lots) =>
    [
        .. Enumerable.Range(0, lots.Coupons.Count)
            .GroupBy(i => (Heat: lots.Heat[i], Treatment: lots.Coupons[i].Row.Treatment!.ToUpperInvariant()))
            .Select(g =>
            {
                int[] places = [.. g];
                double[] read = [.. places.Select(i => lots.Hardness[i]).Where(h => !double.IsNaN(h))];
                return new LadderLevel(g.Key.Heat, lots.Candidate[places[0]], lots.Coupons[places[0]].Row.Treatment!, places, read.Length == 0 ? double.NaN : read.Average());
            })
            .OrderBy(l => l.IsCandidate).ThenBy(l => l.Heat).ThenBy(l => l.Hardness).ThenBy(l => l.Treatment, StringComparer.Ordinal),
    ];
}
