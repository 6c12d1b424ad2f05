using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Planner;

/// <summary>A plan as it was typed, read.</summary>
/// <param name="Margin">The margin.</param>
/// <param name="Cv">Coefficient of variation of coupons of one heat.</param>
/// <param name="HeatCv">Coefficient of variation among heats of a source.</param>
/// <param name="Coupons">Coupons a heat.</param>
/// <param name="Heats">Heats a source.</param>
internal sealed record TypedPlan(Margin.Ratio Margin, double Cv, double HeatCv, int Coupons, int Heats);

/// <summary>What is typed into the planner.</summary>
internal sealed class PlannerForm
{
    public string? Margin { get; set; }

    public string? Cv { get; set; }

    public string? HeatCv { get; set; }

    public string? Coupons { get; set; }

    public string? Heats { get; set; }

    /// <summary>The plan, or what is wrong with what was typed.</summary>
    public (TypedPlan? Plan, string? Fault) Read()
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

        return (new(ratio, cv, heatCv, coupons, heats), null);
    }

    /// <summary>The address of the page with what is typed.</summary>
    public string Address() => "planner?" + string.Join('&', new[] { ("margin", Margin), ("cv", Cv), ("heatcv", HeatCv), ("coupons", Coupons), ("heats", Heats) }
        .Select(p => $"{p.Item1}={Uri.EscapeDataString(p.Item2 ?? "")}"));

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
