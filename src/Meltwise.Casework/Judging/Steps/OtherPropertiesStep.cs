using Meltwise.Domain;
using Meltwise.Statistics.Multiplicity;

namespace Meltwise.Casework.Judging;

/// <summary>Steps 0 and 9: the other properties of a rule, each judged by its own margin, and the primary ones together.</summary>
/// <remarks>Every property takes the same way as the first one. A further primary is judged by the estimand of the rule, hardness itself and secondary properties as tested. The question is that of the rule;
/// a property without a good direction is asked whether the lots are equivalent where the rule asks which is better.</remarks>
internal static class OtherPropertiesStep
{
    /// <summary>The verdict on the first property with the others joined to it.</summary>
    public static Verdict Join(Verdict first, ComparisonInput input, Func<ComparisonInput, Verdict> judge)
    {
        Refuse(input.Rule);
        List<(PropertyRole Role, Verdict Verdict)> judged = [.. input.Rule.OtherProperties().Select(o => (o.Role, judge(Beside(o.Role, o.Property, first, input))))];
        Verdict[] primaries = [first, .. judged.Where(o => o.Role == PropertyRole.Primary).Select(o => o.Verdict)], secondaries = [.. judged.Where(o => o.Role == PropertyRole.Secondary).Select(o => o.Verdict)];
        double[] ofPrimaries = Holm.Adjust([.. primaries.Select(P)]), ofSecondaries = Holm.Adjust([.. secondaries.Select(P)]);
        List<OtherPropertyResult> others =
        [
            .. primaries.Skip(1).Select((v, i) => Result(v, PropertyRole.Primary, ofPrimaries[i + 1], primaries.Length, first.Rule.Alpha)),
            .. secondaries.Select((v, i) => Result(v, PropertyRole.Secondary, ofSecondaries[i], secondaries.Length, first.Rule.Alpha)),
        ];
        Verdict with = first with { OtherProperties = others };
        if (primaries.Length == 1) return with;
        JointResult joint = JointStep.Of(primaries, ofPrimaries, first.Rule.Alpha);
        return JointWords.Complete(with with { Joint = joint }, primaries, others);
    }

    private static void Refuse(DecisionRule rule)
    {
        static string NameOf(string property) => PropertyTable.Find(property)?.Name ?? property.Trim();
        HashSet<string> named = new(StringComparer.OrdinalIgnoreCase) { NameOf(rule.Property) };
        foreach ((_, OtherProperty other) in rule.OtherProperties())
            if (!named.Add(NameOf(other.Property))) throw new ComparisonFaultException($"{NameOf(other.Property)} is named twice in the rule. A property has one margin and one role.");
    }

    /// <summary>The rule as it holds for a property beside the first one.</summary>
    /// <param name="role">Its role.</param>
    /// <param name="other">The property.</param>
    /// <param name="rule">The rule.</param>
    public static DecisionRule RuleOf(PropertyRole role, OtherProperty other, DecisionRule rule)
    {
        Property? known = PropertyTable.Find(other.Property);
        GoodDirection better = other.Better ?? known?.Better ?? GoodDirection.None;
        return rule with
        {
            Property = other.Property,
            Margin = other.Margin,
            Scale = other.Scale,
            Better = other.Better,
            Estimand = role == PropertyRole.Primary && known != PropertyTable.Hardness ? rule.Estimand : Estimand.AsTested,
            Question = better == GoodDirection.None && rule.Question is Question.NotWorse or Question.Better ? Question.Equivalent : rule.Question,
            PlannedCouponsPerLot = null,
        };
    }

    private static ComparisonInput Beside(PropertyRole role, OtherProperty other, Verdict first, ComparisonInput input)
    {
        PropertyTables? own = input.OtherTables.GetValueOrDefault(other.Property);
        return input with
        {
            IsBeside = true,
            Lots = own?.Lots ?? input.Lots,
            History = own is null ? input.History : own.History,
            UnverifiedInstruments = own?.UnverifiedInstruments ?? input.UnverifiedInstruments,
            EarlierPairs = [],
            Rule = RuleOf(role, other, input.Rule) with { Look = first.Rule.Look },
        };
    }

    // A property without an outcome counts in the number that Holm's correction is for, as one that shows nothing.
    private static double P(Verdict verdict) => verdict.Main?.PDifference ?? 1;

    private static OtherPropertyResult Result(Verdict v, PropertyRole role, double holm, int family, double alpha)
    {
        bool stands = v.Finding.Outcome != Outcome.NoVerdict, claimed = stands && holm < alpha;
        return new()
        {
            Property = v.Rule.Property,
            Role = role == PropertyRole.Primary ? "primary" : "secondary",
            Rule = v.Rule,
            Lots = [.. v.Lots.Select(l => new OtherLot(l.Role, l.N, l.N > 0 ? l.GeometricMean ?? l.Mean : null, l.Sd))],
            AsTested = v.AsTested,
            EqualHardness = v.Rule.Estimand == "equal-hardness" ? v.EqualHardness : null,
            Sources = v.Rule.Estimand == "sources" ? v.Sources : null,
            Outcome = v.Finding.Outcome,
            Answer = v.Rule.Question == "difference" && v.Finding.Answer == Answer.Yes && !claimed ? Answer.Open : v.Finding.Answer,
            Reason = v.Finding.Reason,
            Missing = v.Finding.Missing,
            PDifference = stands ? v.Main?.PDifference : null,
            PDifferenceHolm = stands ? holm : null,
            DifferenceClaimed = claimed,
            Sentence = role == PropertyRole.Primary ? v.Finding.Sentence : $"{v.Finding.Sentence} {JointWords.OfSecondary(v, claimed, holm, family)}",
        };
    }
}
