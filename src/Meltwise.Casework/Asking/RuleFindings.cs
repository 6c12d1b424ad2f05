using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>What is wrong or doubtful in a rule, before it binds anybody.</summary>
internal static class RuleFindings
{
    public static IEnumerable<Finding> Of(DecisionRule rule)
    {
        Property? property = PropertyTable.Find(rule.Property);
        if (property is null && (rule.Scale is null || rule.Better is null))
            yield return Finding.Fault($"{rule.Property} is not in the table of properties. Give its scale and its good direction with the rule.");
        PropertyScale? scale = rule.Scale ?? property?.Scale;
        foreach (Finding finding in OfMargin(rule.Margin, property, scale).Concat(OfOthers(rule))) yield return finding;
        if (rule.Alpha is not (> 0 and < 0.5)) yield return Finding.Fault(Say($"An error rate of {rule.Alpha} was given; it lies above 0 and below 0.5, usually 0.05."));
        if (rule.Look is not (null or 1 or 2)) yield return Finding.Fault(Say($"Look {rule.Look} was given; a rule has one look, or two with one planned extension."));
        if (rule.Look is not null) yield return Finding.Note(Say($"With an extension planned each look uses half of the error rate, {rule.Alpha / 2}."));
        if (rule.SessionSdHrc is < 0) yield return Finding.Fault("The scatter between sessions cannot be negative.");
        if (rule is { SessionSdFrom: not null, SessionSdHrc: null }) yield return Finding.Fault("The rule says where the scatter between sessions comes from, but names no value.");
        if (rule.PlannedCouponsPerLot is < 3) yield return Finding.Fault(Say($"{rule.PlannedCouponsPerLot} coupons a lot are planned; a verdict needs at least 3."));
        if (rule.PlannedCouponsPerLot is 3 or 4) yield return Finding.Warning(Say($"With {rule.PlannedCouponsPerLot} coupons a lot the answer will often be inconclusive. See the odds in the plan."));
    }

    private static IEnumerable<Finding> OfOthers(DecisionRule rule)
    {
        HashSet<string> named = new(StringComparer.OrdinalIgnoreCase) { NameOf(rule.Property) };
        foreach ((_, OtherProperty other) in rule.OtherProperties())
        {
            Property? property = PropertyTable.Find(other.Property);
            if (!named.Add(NameOf(other.Property))) yield return Finding.Fault($"{NameOf(other.Property)} is named twice in the rule; a property has one margin and one role.");
            if (property is null && (other.Scale is null || other.Better is null)) yield return Finding.Fault($"{other.Property} is not in the table of properties. Give its scale and its good direction with the rule.");
            foreach (Finding finding in OfMargin(other.Margin, property, other.Scale ?? property?.Scale)) yield return finding;
        }
        if (rule.FurtherPrimaries is { Count: > 0 } further) yield return Finding.Note($"All {further.Count + 1} primary properties must agree, each within its own margin; the chance of showing that is smaller than for one.");
    }

    private static string NameOf(string property) => PropertyTable.Find(property)?.Name ?? property.Trim();

    private static IEnumerable<Finding> OfMargin(Margin margin, Property? property, PropertyScale? scale)
    {
        switch (margin)
        {
            case Margin.Ratio r when !(r.Low is > 0 and < 1 && r.High > 1 && double.IsFinite(r.High)):
                yield return Finding.Fault(Say($"A ratio margin of {r.Low} to {r.High} was given; it must hold 1 inside, e.g. 0.80 to 1.25."));
                break;
            case Margin.Ratio when scale == PropertyScale.Linear:
                yield return Finding.Fault($"{property?.Name ?? "This property"} is compared by difference, so its margin is a difference too, e.g. ±1 {property?.StoredUnit.Name}.");
                break;
            case Margin.Absolute a when !(a.PlusMinus > 0 && double.IsFinite(a.PlusMinus)):
                yield return Finding.Fault(Say($"A margin of ±{a.PlusMinus} {a.Unit} was given; it must be above 0."));
                break;
            case Margin.Absolute a when property is not null && property.FindUnit(a.Unit) is null:
                yield return Finding.Fault($"The margin is in {a.Unit}; {property.Name} is read in {string.Join(" or ", property.Units.Select(u => u.Name))}.");
                break;
            case Margin.InHardness h when !(h.Hrc > 0 && double.IsFinite(h.Hrc)):
                yield return Finding.Fault(Say($"A margin of {h.Hrc} HRC was given; it must be above 0."));
                break;
        }
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
