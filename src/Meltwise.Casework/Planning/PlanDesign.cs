using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>One plan: numbers of heats, coupons and loads, what it answers for, and which coupon goes into which load.</summary>
/// <remarks>Both sides are dealt to the loads in turn and alike, so every load holds equal numbers of both.</remarks>
internal sealed class PlanDesign
{
    private readonly int[] _load;

    private PlanDesign(PlanRequest r, int heats, int coupons, int loads)
    {
        (Heats, Coupons, Loads, Levels) = (heats, coupons, loads, r.Ladder?.Levels ?? 1);
        Added = r.Extension is { } e ? e.Coupons ?? coupons : 0;
        Estimand = EstimandOf(r, heats);
        Gate = GateOf(r);
        _load = new int[Groups * (coupons + Added)];
        int newLoads = r.Extension is { NewLoads: true } ? Math.Min(loads, Groups * Added) : 0;
        LoadsInAll = loads + newLoads;
        for (int h = 0; h < Groups; h++)
            for (int i = 0; i < coupons + Added; i++)
                _load[h * (coupons + Added) + i] = i < coupons ? (h * coupons + i) % loads
                    : newLoads > 0 ? loads + (h * Added + i - coupons) % newLoads
                    : (Groups * coupons + h * Added + i - coupons) % loads;
    }

    public int Heats { get; }

    /// <summary>Levels of a temper ladder; 1 without one.</summary>
    public int Levels { get; }

    /// <summary>Groups of coupons a side: heats, or levels of the one heat.</summary>
    public int Groups => Heats * Levels;
    public int Coupons { get; }
    public int Loads { get; }

    /// <summary>Coupons a heat that an extension adds.</summary>
    public int Added { get; }

    /// <summary>Loads, those of an extension included.</summary>
    public int LoadsInAll { get; }

    public Estimand Estimand { get; }

    /// <summary>The gate of the verdict that such a plan fails whatever the readings; null when it passes.</summary>
    public Reason? Gate { get; }

    /// <summary>Load of coupon i of heat, or level, h, the same on both sides.</summary>
    public int LoadOf(int heat, int i) => _load[heat * (Coupons + Added) + i];

    public double Cost(PlanRequest r, double chanceOfExtension) =>
        2 * Heats * (r.CostPerHeat + Levels * Coupons * r.CostOfCoupon) + Loads * r.CostPerLoad
        + chanceOfExtension * (2 * Groups * Added * r.CostOfCoupon + (LoadsInAll - Loads) * r.CostPerLoad);

    /// <summary>All plans of a request in the order heats, loads, coupons; and those that are refused.</summary>
    public static (IReadOnlyList<PlanDesign> Designs, IReadOnlyList<RefusedPlan> Refused) All(PlanRequest r)
    {
        List<PlanDesign> designs = [];
        List<RefusedPlan> refused = [];
        foreach (int heats in r.Heats)
            foreach (int[] loads in r.LoadsAsNeeded ? [[.. r.Loads.Order()]] : r.Loads.Select(l => new[] { l }))
                foreach (int coupons in r.Coupons)
                {
                    int fits = Array.Find(loads, l => Why(r, heats, coupons, l) is null);
                    if (fits > 0) designs.Add(new(r, heats, coupons, fits));
                    else if (Why(r, heats, coupons, loads[^1]) is { } why) refused.Add(new(coupons, heats, loads[^1], why.Reason, why.Text));
                }
        return (designs, refused);
    }

    private static (string Reason, string Text)? Why(PlanRequest r, int heats, int coupons, int loads)
    {
        if (r.LotsInOwnLoads)
            return ("confounded-loads", "Each lot in loads of its own: no load holds both, so a difference between the lots cannot be told from a difference between the loads. Already a load scatter of 5 to 10 % turns an error rate of 5 % into 14 to 34 %. Put both lots into every load.");
        int groups = heats * (r.Ladder?.Levels ?? 1);
        if (loads > groups * coupons)
            return ("confounded-loads", $"With {loads} loads and {groups * coupons} coupons a side, at least one load would hold one side only, and side and load could not be told apart there. Use {groups * coupons} loads at most.");
        // Coupons that are treated with the first ones and kept for an extension take their places too.
        int each = coupons + (r.Extension is { NewLoads: false } kept ? kept.Coupons ?? coupons : 0);
        return r.LoadCapacity is { } room && 2 * groups * each > loads * room
            ? ("capacity", $"{2 * groups * each} coupons do not fit into {loads} {(loads == 1 ? "load" : "loads")} of {room}. Add a load, or take fewer coupons.")
            : null;
    }

    private static Estimand EstimandOf(PlanRequest r, int heats) =>
        heats > 1 && !r.OfTheseHeats || r.Estimand == Domain.Estimand.Sources ? Domain.Estimand.Sources
        : r.Estimand ?? (!r.ReadsHardness ? Domain.Estimand.AsTested : Domain.Estimand.EqualHardness);

    private Reason? GateOf(PlanRequest r)
    {
        if (r.Ladder is not null)
            return Estimand != Estimand.EqualHardness ? Reason.StrataDiffer : Groups * Coupons < 3 || 2 * Groups * Coupons <= 4 ? Reason.TooFew : null;
        if (Heats * Coupons < 3 || (Heats > 1 && Coupons < 2)) return Reason.TooFew;
        if (Estimand != Estimand.Sources && Heats > 1) return null;
        if (Estimand != Estimand.Sources)
            return Coupons - Loads < 2 && 2 * Coupons - Loads - 1 < 2 ? Reason.TooFew : null;
        int old = r.History is { } h ? h.ReferenceHeats + h.CandidateHeats + h.OtherHeats.Sum() : 0, others = r.History?.OtherHeats.Count(n => n > 0) ?? 0;
        int fewest = Heats + Math.Min(r.History?.ReferenceHeats ?? 0, r.History?.CandidateHeats ?? 0);
        int left = old + 2 * Heats - 2 - others - (r.Trend is null || r.History is null ? 0 : 1);
        return left < (fewest >= 2 ? 2 : 6) ? Reason.HeatToHeatScatterUnknown : null;
    }
}
