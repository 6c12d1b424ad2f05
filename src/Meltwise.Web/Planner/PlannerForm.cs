using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Planner;

/// <summary>What is typed into the planner.</summary>
internal sealed class PlannerForm
{
    private const int Replicates = 4000;

    public string? Margin { get; set; }

    public string? Cv { get; set; }

    public string? HeatCv { get; set; }

    public string? Coupons { get; set; }

    public string? Heats { get; set; }

    /// <summary>The odds, or what is wrong with what was typed.</summary>
    public (PlannedOdds? Odds, string? Fault) WorkOut()
    {
        if (!MarginText.TryRead(Margin ?? "", PropertyTable.ImpactEnergy, out Margin? margin, out string fault) || margin is not Domain.Margin.Ratio ratio)
        {
            return (null, fault.Length > 0 ? fault : "The planner takes a margin as a ratio: 25% or 0.80..1.25.");
        }

        if (!TryNumber(Cv, 0.001, 1, out double cv) || !TryNumber(HeatCv, 0, 1, out double heatCv))
        {
            return (null, "The scatter in a heat is a number from 0.001 to 1, among heats from 0 to 1.");
        }

        if (!int.TryParse(Coupons, NumberStyles.None, CultureInfo.InvariantCulture, out int coupons) || coupons is < 3 or > 100
            || !int.TryParse(Heats, NumberStyles.None, CultureInfo.InvariantCulture, out int heats) || heats is < 1 or > 20)
        {
            return (null, "Coupons a heat is a whole number from 3 to 100, heats a source from 1 to 20.");
        }

        try
        {
            return (PlannedOdds.Of(ratio, cv, heatCv, coupons, heats, Replicates), null);
        }
        catch (PlanFaultException told)
        {
            return (null, told.Message);
        }
    }

    /// <summary>What this bench knows of impact energy, from the kind of coupon that it has tested most.</summary>
    public static BenchKnowledge KnowledgeOf(IBench bench)
    {
        CouponTable all = bench.CouponTable(new CouponSelection(Property: PropertyTable.ImpactEnergy.Name));
        CouponTable ofKind = all with { Rows = [.. all.Rows.GroupBy(r => (r.Grade, r.Route, r.Geometry, r.Orientation, r.TemperFamily)).MaxBy(g => g.Count()) ?? Enumerable.Empty<CouponRow>()] };
        return BenchKnowledge.Of(ofKind, new DecisionRule { Property = PropertyTable.ImpactEnergy.Name, Margin = new Domain.Margin.Ratio(0.8, 1.25) });
    }

    private static bool TryNumber(string? text, double low, double high, out double value) =>
        double.TryParse((text ?? "").Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && value >= low && value <= high;
}
