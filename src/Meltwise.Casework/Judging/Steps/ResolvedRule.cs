using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>What a margin is measured in.</summary>
internal enum MarginKind
{
    Ratio,
    Absolute,
    Hardness,
}

/// <summary>The rule with everything that the property fixes filled in: scale, direction, unit of comparison, error rate of this look, limits.</summary>
internal sealed record ResolvedRule
{
    public required DecisionRule Rule { get; init; }
    public required Property Property { get; init; }
    public required bool IsLog { get; init; }
    public required bool? HigherIsBetter { get; init; }
    public required string Unit { get; init; }
    public required double Alpha { get; init; }
    public required MarginKind Kind { get; init; }

    /// <summary>Ratio limits as agreed; 0 where the margin is of another kind.</summary>
    public double Low { get; init; }
    public double High { get; init; }

    /// <summary>Plus or minus in the unit of comparison.</summary>
    public double PlusMinus { get; init; }
    public double Hrc { get; init; }

    /// <summary>1 or 2 with a planned or an unplanned extension.</summary>
    public int? Look { get; init; }

    /// <summary>True when more coupons than planned came in without a planned extension.</summary>
    public bool UnplannedExtension { get; init; }

    public double SessionSd => Rule.SessionSdHrc ?? 0;

    /// <summary>True where a coupon that did not break has a bound of the property: in a test that breaks it, or one that the table of properties does not know.</summary>
    public bool EndsWithABreak => PropertyTable.Find(Property.Name) is null || Property.Name is "impact energy" or "bend strength";

    /// <summary>The value on the analysis scale.</summary>
    public double Analysed(double value) => IsLog ? Math.Log(value) : value;

    /// <summary>Limits on the analysis scale, where the margin is a plain ratio, or a difference on a linear scale.</summary>
    public (double Low, double High) Limits => IsLog ? (Math.Log(Low), Math.Log(High)) : (-PlusMinus, PlusMinus);

    /// <summary>The same rule with ratio limits that an absolute or hardness margin comes to.</summary>
    public ResolvedRule WithRatio(double low, double high) => this with { Low = low, High = high };

    public static ResolvedRule From(DecisionRule rule, string? unitOfReadings, int largestLot)
    {
        Property property = Find(rule, unitOfReadings);
        bool log = (rule.Scale ?? property.Scale) == PropertyScale.Logarithmic;
        GoodDirection direction = rule.Better ?? property.Better;
        string unit = unitOfReadings is { } u && property.FindUnit(u) is { } known ? known.Name : property.StoredUnit.Name;
        bool unplanned = rule.Look is null && rule.PlannedCouponsPerLot is { } planned && largestLot > planned;
        if (rule.Alpha is not (> 0 and < 0.5)) throw new ComparisonFaultException(string.Create(CultureInfo.InvariantCulture, $"The error rate of the rule is {rule.Alpha}. It must lie above 0 and below 0.5; 0.05 is usual."));
        if (rule.Look is not (null or 1 or 2)) throw new ComparisonFaultException($"Look {rule.Look} of an extension. A rule plans one extension at most: look 1, or look 2 after it.");
        if (direction == GoodDirection.None && rule.Question is (Question.NotWorse or Question.Better))
            throw new ComparisonFaultException($"The question '{rule.Question.Code()}' needs a good direction, and {property.Name} has none. Say which way is better, or ask whether the lots are equivalent.");
        ResolvedRule resolved = new()
        {
            Rule = rule,
            Property = property,
            IsLog = log,
            HigherIsBetter = direction == GoodDirection.None ? null : direction == GoodDirection.Higher,
            Unit = unit,
            Alpha = rule.Look is null && !unplanned ? rule.Alpha : rule.Alpha / 2,
            Kind = MarginKind.Ratio,
            Look = unplanned ? 2 : rule.Look,
            UnplannedExtension = unplanned,
        };
        return resolved.WithMargin(rule.Margin);
    }

    private ResolvedRule WithMargin(Margin margin)
    {
        switch (margin)
        {
            case Margin.Ratio r:
                if (!(r.Low > 0 && r.Low < 1 && r.High > 1 && double.IsFinite(r.High)))
                    throw new ComparisonFaultException(string.Create(CultureInfo.InvariantCulture, $"The margin {r.Low}..{r.High} is not a ratio from below 1 to above 1, such as 0.80..1.25."));
                if (!IsLog) throw new ComparisonFaultException($"{Property.Name} is compared as a difference, so its margin is plus or minus so many {Unit}, not a ratio.");
                return this with { Kind = MarginKind.Ratio, Low = r.Low, High = r.High };
            case Margin.Absolute a:
                if (!(a.PlusMinus > 0)) throw new ComparisonFaultException("An absolute margin must be above 0.");
                if (Property.FindUnit(a.Unit) is null)
                    throw new ComparisonFaultException($"The margin is in {a.Unit}, but {Property.Name} is read in {string.Join(" or ", Property.Units.Select(u => u.Name))}.");
                return this with { Kind = MarginKind.Absolute, PlusMinus = Property.Convert(a.PlusMinus, a.Unit, Unit) };
            case Margin.InHardness h:
                if (!(h.Hrc > 0)) throw new ComparisonFaultException("A margin in hardness must be above 0.");
                return Property.Name == PropertyTable.Hardness.Name
                    ? this with { Kind = MarginKind.Absolute, PlusMinus = h.Hrc }
                    : this with { Kind = MarginKind.Hardness, Hrc = h.Hrc };
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    private static Property Find(DecisionRule rule, string? unit) => PropertyTable.Find(rule.Property)
        ?? (rule.Scale is { } scale
            ? new Property(rule.Property.Trim(), scale, rule.Better ?? GoodDirection.None, [new PropertyUnit(unit ?? "-", 1)], double.NegativeInfinity, double.PositiveInfinity)
            : throw new ComparisonFaultException($"'{rule.Property}' is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}). For another property say its scale, log or linear, and which way is better."));
}
