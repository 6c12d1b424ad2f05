using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>The request that a decision rule makes of a plan: scale, margin, question, estimand, scatter, error rate and extension are the rule's, and nobody types them twice.</summary>
public static class RuleToPlan
{
    /// <summary>The request, with the scatter and the coupon numbers still to be filled in by the bench's knowledge or by hand.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="withinHeatSd">Scatter of a coupon within its heat.</param>
    /// <param name="coupons">Coupon numbers.</param>
    /// <exception cref="ComparisonFaultException">The rule cannot be set up; the message says what was found and expected.</exception>
    public static PlanRequest Of(DecisionRule rule, double withinHeatSd, IReadOnlyList<int> coupons)
    {
        ArgumentNullException.ThrowIfNull(rule);
        ResolvedRule resolved = ResolvedRule.From(rule, null, 0);
        (PlanMargin margin, double low, double high) = resolved.Kind switch
        {
            MarginKind.Hardness => (PlanMargin.Hardness, -resolved.Hrc, resolved.Hrc),
            MarginKind.Absolute when resolved.IsLog => (PlanMargin.Unit, -resolved.PlusMinus, resolved.PlusMinus),
            MarginKind.Absolute => (PlanMargin.Scale, -resolved.PlusMinus, resolved.PlusMinus),
            _ => (PlanMargin.Scale, resolved.Low, resolved.High),
        };
        return new()
        {
            Property = resolved.Property.Name,
            MarginLow = low,
            MarginHigh = high,
            MarginIn = margin,
            Logarithmic = resolved.IsLog,
            Question = rule.Question,
            Estimand = rule.Estimand,
            Scatter = rule.Scatter,
            Alpha = rule.Alpha,
            HigherIsBetter = resolved.HigherIsBetter,
            Extension = rule.Look is null ? null : new(),
            WithinHeatSd = withinHeatSd,
            Coupons = coupons,
            Truths = [resolved.IsLog ? 1 : 0],
        };
    }

    /// <summary>The request that a further primary property makes of the plan of its rule, with its scatter still to be filled in by the bench's knowledge or by hand.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="other">The property.</param>
    /// <param name="withinHeatSd">Scatter of a coupon within its heat.</param>
    /// <exception cref="ComparisonFaultException">Its margin cannot be set up; the message says what was found and expected.</exception>
    public static PlanRequest Of(DecisionRule rule, OtherProperty other, double withinHeatSd) => Of(OfFurther(rule, other), withinHeatSd, [1]);

    /// <summary>The rule as it holds for a further primary property: what the bench is asked about it.</summary>
    /// <param name="rule">The rule.</param>
    /// <param name="other">The property.</param>
    public static DecisionRule OfFurther(DecisionRule rule, OtherProperty other) => OtherPropertiesStep.RuleOf(PropertyRole.Primary, other, rule) with { FurtherPrimaries = null, Secondaries = null };
}
