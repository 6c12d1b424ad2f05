using Meltwise.Domain;
using Meltwise.Statistics.Comparison;

namespace Meltwise.Casework.Judging;

/// <summary>A contrast held against the margin: both intervals, both p values, outcome and answer.</summary>
internal sealed record JudgedContrast(
    ResolvedRule Rule, ContrastEstimate Estimate, IReadOnlyList<VariancePart> Parts, (double Lower, double Upper) Wide, (double Lower, double Upper) Narrow,
    double PDifference, double PEquivalence, Outcome Outcome, Answer Answer, MarginContrasts? MarginContrasts = null)
{
    /// <summary>Against limits that are plain numbers on the scale of the estimate.</summary>
    public static JudgedContrast Against((double Low, double High) limits, ContrastEstimate estimate, IReadOnlyList<VariancePart> parts, ResolvedRule rule)
    {
        (double Lower, double Upper) wide = estimate.Interval(1 - rule.Alpha), narrow = estimate.Interval(1 - 2 * rule.Alpha);
        Outcome outcome = DecisionTable.Decide(wide, narrow, limits, rule.HigherIsBetter);
        Answer answer = DecisionTable.AnswerTo(rule.Rule.Question, outcome, wide, narrow, limits, rule.HigherIsBetter);
        return new(rule, estimate, parts, wide, narrow, estimate.PDifference, estimate.PEquivalence(limits.Low, limits.High), outcome, answer);
    }

    /// <summary>From independent parts, against the limits of the rule.</summary>
    public static JudgedContrast From(double estimate, IReadOnlyList<VariancePart> parts, ResolvedRule rule) =>
        Against(rule.Limits, ContrastEstimate.FromParts(estimate, parts), parts, rule);

    /// <summary>Against a margin in hardness m = c|b|, whose slope b is itself estimated: θ + m and m − θ are tested each with its own variance.</summary>
    /// <param name="direct">The contrast without any slope in it.</param>
    /// <param name="hardness">How many times |b| is added to it: 0 as tested, the hardness difference at equal hardness.</param>
    /// <param name="rest">Variance parts other than the slope's.</param>
    /// <param name="slope">The slope, below 0.</param>
    public JudgedContrast AgainstHardness(double direct, double hardness, IReadOnlyList<VariancePart> rest, Statistics.Trend.SlopeOnHardness slope) =>
        AgainstHardness(direct, hardness, slope.Slope, (psi, times, _) =>
            ContrastEstimate.FromParts(psi, [.. rest, new("slope", times * times * slope.StandardError * slope.StandardError, slope.DegreesOfFreedom)]));

    /// <summary>The same where the variance of direct + times·|b| comes from elsewhere.</summary>
    /// <param name="direct">The contrast without any slope in it.</param>
    /// <param name="hardness">How many times |b| is added to it.</param>
    /// <param name="slope">The slope, below 0.</param>
    /// <param name="distance">Makes the contrast of an estimate that holds |b| so many times, and θ with the sign given last.</param>
    public JudgedContrast AgainstHardness(double direct, double hardness, double slope, Func<double, double, int, ContrastEstimate> distance)
    {
        double b = -slope, c = Rule.Hrc;
        ContrastEstimate lower = distance(direct + hardness * b + c * b, hardness + c, 1), upper = distance(c * b - direct - hardness * b, c - hardness, -1);
        double pLower = lower.PNotAbove(0), pUpper = upper.PNotAbove(0), p = Math.Max(pLower, pUpper), half = Rule.Alpha / 2;
        MarginTests tests = new(pLower < Rule.Alpha, pUpper < Rule.Alpha, pLower < half, pUpper < half, pLower > 1 - half, pUpper > 1 - half);
        (Outcome outcome, Answer answer) = DecisionTable.AgainstHardness(Rule.Rule.Question, tests, PDifference < Rule.Alpha, Rule.HigherIsBetter);
        return this with
        {
            PEquivalence = p,
            Outcome = outcome,
            Answer = answer,
            MarginContrasts = new(new(lower.Estimate, lower.StandardError, lower.DegreesOfFreedom), new(upper.Estimate, upper.StandardError, upper.DegreesOfFreedom)),
        };
    }
}

/// <summary>The decision table: agreement by the narrow interval, difference by the wide one. Inequalities are strict; touching a limit is no claim.</summary>
internal static class DecisionTable
{
    public static Outcome Decide((double Lower, double Upper) wide, (double Lower, double Upper) narrow, (double Low, double High) limits, bool? higherIsBetter) =>
        Decide(narrow.Lower > limits.Low && narrow.Upper < limits.High, wide.Lower > 0 || wide.Upper < 0, wide.Lower > limits.High, wide.Upper < limits.Low, higherIsBetter);

    public static Outcome Decide(bool within, bool excludes, bool above, bool below, bool? higherIsBetter)
    {
        if (within) return excludes ? Outcome.EquivalentDetectable : Outcome.Equivalent;
        if (above) return higherIsBetter switch { null => Outcome.Higher, true => Outcome.Better, false => Outcome.Worse };
        if (below) return higherIsBetter switch { null => Outcome.Lower, true => Outcome.Worse, false => Outcome.Better };
        return excludes ? Outcome.DifferentOpen : Outcome.Inconclusive;
    }

    public static Answer AnswerTo(
        Question question, Outcome outcome, (double Lower, double Upper) wide, (double Lower, double Upper) narrow, (double Low, double High) limits, bool? higherIsBetter)
    {
        if (higherIsBetter == false)
            (wide, narrow, limits) = ((-wide.Upper, -wide.Lower), (-narrow.Upper, -narrow.Lower), (-limits.High, -limits.Low));
        return question switch
        {
            Question.NotWorse => YesNo(narrow.Lower > limits.Low, wide.Upper < limits.Low),
            Question.Better => YesNo(outcome == Outcome.Better, wide.Upper < limits.High),
            Question.Difference => YesNo(wide.Lower > 0 || wide.Upper < 0, outcome == Outcome.Equivalent),
            _ => YesNo(outcome is Outcome.Equivalent or Outcome.EquivalentDetectable, outcome is Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower),
        };
    }

    /// <summary>Outcome and answer where the two distances to the margin are tested each with its own variance.</summary>
    public static (Outcome Outcome, Answer Answer) AgainstHardness(Question question, MarginTests tests, bool excludes, bool? higherIsBetter)
    {
        bool within = tests.NotBelow && tests.NotAbove, higher = higherIsBetter ?? true;
        Outcome outcome = Decide(within, excludes, tests.Above, tests.Below, higherIsBetter);
        return (outcome, question switch
        {
            Question.NotWorse => higher ? YesNo(tests.NotBelow, tests.Below) : YesNo(tests.NotAbove, tests.Above),
            Question.Better => YesNo(outcome == Outcome.Better, higher ? tests.SurelyNotAbove : tests.SurelyNotBelow),
            Question.Difference => YesNo(excludes, outcome == Outcome.Equivalent),
            _ => YesNo(within, tests.Above || tests.Below),
        });
    }

    public static Answer YesNo(bool yes, bool no) => yes ? Answer.Yes : no ? Answer.No : Answer.Open;
}

/// <summary>One-sided tests against the two limits of a margin that is itself estimated.</summary>
/// <param name="NotBelow">Shown to lie above the lower limit, at the error rate of the narrow interval.</param>
/// <param name="NotAbove">Shown to lie below the upper limit, likewise.</param>
/// <param name="SurelyNotBelow">The same at the error rate of the wide interval.</param>
/// <param name="SurelyNotAbove">The same at the error rate of the wide interval.</param>
/// <param name="Below">Shown to lie below the lower limit, at the error rate of the wide interval.</param>
/// <param name="Above">Shown to lie above the upper limit, likewise.</param>
internal readonly record struct MarginTests(bool NotBelow, bool NotAbove, bool SurelyNotBelow, bool SurelyNotAbove, bool Below, bool Above);
