using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>What the bench's history knows of every primary property of a rule before a coupon is broken.</summary>
/// <param name="First">Of the rule's first property.</param>
/// <param name="Further">Of the others, in the order of the rule.</param>
public sealed record RuleKnowledge(BenchKnowledge First, IReadOnlyList<FurtherKnowledge> Further)
{
    /// <summary>Reads what a bench knows for an enquiry, or of the kinds tested most.</summary>
    public static RuleKnowledge Of(IBench bench, DecisionRule rule, Enquiry? enquiry = null)
    {
        ArgumentNullException.ThrowIfNull(bench);
        return Of(rule, own => BenchKnowledge.Of(bench, own, enquiry), property => bench.CouponTable(new(Property: property)));
    }

    /// <summary>Reads a history.</summary>
    /// <param name="history">Everything tested before.</param>
    /// <param name="rule">The rule.</param>
    public static RuleKnowledge Of(CouponTable history, DecisionRule rule) =>
        Of(rule, own => BenchKnowledge.Of(history, own, PlannedKind.MostTested(history, own.Property)), _ => history);

    /// <summary>Of a rule without any history.</summary>
    public static RuleKnowledge Nothing(DecisionRule rule)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return Of(rule, own => new() { Kind = new(new(own.Property)), WhyNoTrend = "there is no history" }, _ => null);
    }

    private static RuleKnowledge Of(DecisionRule rule, Func<DecisionRule, BenchKnowledge> ask, Func<string, CouponTable?> tested)
    {
        OtherProperty[] further = [.. rule.FurtherPrimaries ?? []];
        if (further.Length == 0) return new(ask(rule), []);
        DecisionRule[] rules = [rule, .. further.Select(f => RuleToPlan.OfFurther(rule, f))];
        BenchKnowledge[] known = [.. rules.Select(ask)];
        CouponTable?[] tables = [.. rules.Select(r => tested(r.Property))];
        ReadingCorrelation? Together(int i, int j) => tables[j] is { } a && tables[i] is { } b ? ReadingCorrelation.Of(a, b, rules[j], rules[i], known[0].Kind) : null;
        return new(known[0], [.. further.Select((f, i) => new FurtherKnowledge(f, known[i + 1], [.. Enumerable.Range(0, i + 1).Select(j => Together(i + 1, j))]))]);
    }
}

/// <summary>What is known of a further primary property.</summary>
/// <param name="Property">The property and its margin.</param>
/// <param name="Known">Scatter, trend and old heats.</param>
/// <param name="Correlations">With each property before it on one coupon, the rule's first one first; null where too few coupons have both readings.</param>
public sealed record FurtherKnowledge(OtherProperty Property, BenchKnowledge Known, IReadOnlyList<ReadingCorrelation?> Correlations);

/// <summary>What is typed for a further primary property; what is typed stands before what the bench knows.</summary>
public sealed record TypedFurther
{
    /// <summary>Scatter of a coupon within its heat.</summary>
    public double? Scatter { get; init; }

    /// <summary>Scatter among heats.</summary>
    public double? HeatScatter { get; init; }

    /// <summary>True ratio or difference.</summary>
    public double? Truth { get; init; }

    /// <summary>Expected mean of the reference, for a margin in the unit of the property.</summary>
    public double? Mean { get; init; }

    /// <summary>Correlation with each property before it; null where nothing is typed.</summary>
    public IReadOnlyList<double?> Correlations { get; init; } = [];

    /// <summary>What reading it adds to the cost of a coupon.</summary>
    public double CostPerReading { get; init; }

    /// <summary>Makes the further property of a plan, with where its numbers come from in words.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="known">What the bench knows of the property.</param>
    /// <param name="hardnessDifference">Expected difference of hardness, HRC; null where nobody expects one. It is the truth of hardness itself where none is typed.</param>
    /// <exception cref="PlanFaultException">Its scatter is known to nobody.</exception>
    public (FurtherPrimary Planned, string From) Over(DecisionRule rule, FurtherKnowledge known, double? hardnessDifference)
    {
        ArgumentNullException.ThrowIfNull(known);
        BenchKnowledge bench = known.Known;
        double scatter = Scatter ?? bench.WithinHeatSd ?? throw new PlanFaultException($"The scatter of {known.Property.Property} within a heat is not known from any history; type it.");
        PlanRequest own = RuleToPlan.Of(rule, known.Property, scatter);
        bool needsTrend = rule.Estimand == Estimand.EqualHardness || own.MarginIn == PlanMargin.Hardness || (rule.Estimand == Estimand.Sources && bench.Trend is not null);
        own = bench.Into(own with { HeatSd = 0.5 * scatter, ReferenceMean = Mean }, needsTrend ? hardnessDifference ?? 0 : null);
        if (Scatter is not null) own = own with { WithinHeatSd = scatter, WithinHeatSdDf = null, Law = rule.Scatter == ScatterChoice.Lent ? own.Law : null };
        if (HeatScatter is { } heats) own = own with { HeatSd = heats, HeatSdDf = null };
        string among = HeatScatter is not null ? "as typed" : bench.HeatSd is not null ? "from the bench" : "not known, taken as half of that within a heat";
        string together = string.Join("; ", known.Correlations.Select((c, j) => Of(c, j, rule)));
        return (new()
        {
            Own = own,
            Truth = Truth ?? (PropertyTable.Find(known.Property.Property) == PropertyTable.Hardness ? hardnessDifference : null),
            Correlations = [.. known.Correlations.Select((c, j) => Correlations.ElementAtOrDefault(j) ?? c?.Correlation ?? 0)],
            CostPerReading = CostPerReading,
        }, FormattableString.Invariant($"{known.Property.Property}: scatter within a heat {own.WithinHeatSd:0.###} {(Scatter is null ? $"from the bench{(own.WithinHeatSdDf is { } df ? $", {df:0} degrees of freedom" : "")}" : "as typed")}; among heats {own.HeatSd:0.###}, {among}; {together}."));
    }

    private string Of(ReadingCorrelation? known, int place, DecisionRule rule)
    {
        string with = place == 0 ? rule.Property : rule.FurtherPrimaries![place - 1].Property;
        return Correlations.ElementAtOrDefault(place) is { } typed ? FormattableString.Invariant($"correlation with {with} on one coupon {typed:0.00;−0.00}, as typed")
            : known is { } c ? FormattableString.Invariant($"correlation with {with} on one coupon {c.Correlation:0.00;−0.00}, from {c.Coupons} coupons of the bench")
            : $"correlation with {with} on one coupon not known, taken as 0";
    }
}
