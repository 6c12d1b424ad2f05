using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>What may and may not be claimed for each outcome. Fixed sentences: "the same" only with margin and property beside it.</summary>
internal static class Claims
{
    public static IReadOnlyList<string> May(EstimandResult result, Names names, ResolvedRule rule)
    {
        Size size = Size.Of(result, Sentences.AsDifference(rule));
        string scope = Scope(names, rule);
        List<string> claims = result.Outcome switch
        {
            Outcome.Equivalent =>
                [$"{names.CandidateFirst} and {names.Reference} are interchangeable for {names.Property} within {names.Margin}, {scope}. Risk of a false claim at most about {Risk(rule)} if the model holds."],
            Outcome.EquivalentDetectable =>
            [
                $"{names.CandidateFirst} and {names.Reference} are interchangeable for {names.Property} within {names.Margin}, {scope}. Risk of a false claim at most about {Risk(rule)} if the model holds.",
                $"{names.CandidateFirst} is the {size.Direction} of the two in {names.Property}, by an amount too small to act on under the margin of {names.Margin}.",
            ],
            Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower =>
                [$"{names.CandidateFirst} is {result.Outcome.Value.Code()} than {names.Reference} in {names.Property} by more than the margin of {names.Margin}, {scope}; {size.Noun} {size.Wide}."],
            Outcome.DifferentOpen => [$"{names.CandidateFirst} is {size.Direction} than {names.Reference} in {names.Property}, {scope}: the direction, not the size."],
            _ => [$"A {size.Noun} outside {size.WideRange} does not fit the data ({Size.Level(size.WideLevel)} range), {scope}."],
        };
        if (OfQuestion(result, names, rule, size) is { } answer) claims.Add(answer);
        return claims;
    }

    /// <summary>What may not be claimed.</summary>
    /// <param name="outcome">The outcome; null for a no-verdict.</param>
    /// <param name="judged">The property that was judged, or all of them.</param>
    /// <param name="verdict">The verdict.</param>
    public static IReadOnlyList<string> MayNot(Outcome? outcome, string judged, Verdict verdict)
    {
        List<string> never = outcome switch
        {
            Outcome.Equivalent => [$"That the two are the same steel, or alike in any property other than {judged}."],
            Outcome.EquivalentDetectable => [$"That the two are the same steel, or alike in any property other than {judged}.", "“Better” or “worse” without the margin in the same sentence."],
            Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower => [$"That one is the better steel overall: only {judged} was judged.", "The cause of the difference."],
            Outcome.DifferentOpen => ["How large the difference is, or whether it matters.", "A recommendation for or against either."],
            Outcome.Inconclusive => ["“No difference was found, so they are equal.”", "That they agree within the margin."],
            _ => ["Anything about a difference or an agreement of the two."],
        };
        if (outcome is null) return never;
        if (verdict.Rule.Estimand != "sources") never.Add("Anything about later heats, or about the sources in general.");
        if (verdict.Rule.Estimand == "equal-hardness") never.Add(OfTuning(verdict));
        return never;
    }

    private static string OfTuning(Verdict verdict) => verdict switch
    {
        { EqualHardness.Ladder.Overlap: [var low, var high] } => $"Anything outside {Figures.Fixed(low, 1)} to {Figures.Fixed(high, 1)} HRC, where the ladders overlap, or how heats of other hardness compare.",
        { EqualHardness.SlopeIsOfLadder: true } => "How heats of other hardness compare: that takes the slope between heats.",
        _ => "What would happen if the treatment were tuned: that takes the slope of a temper ladder.",
    };

    private static string? OfQuestion(EstimandResult result, Names names, ResolvedRule rule, Size size) => (rule.Rule.Question, result.Answer) switch
    {
        (Question.NotWorse, Answer.Yes) => $"{names.CandidateFirst} is not worse than {names.Reference} in {names.Property} by more than the margin of {names.Margin}.",
        (Question.NotWorse, Answer.No) => $"{names.CandidateFirst} is worse than {names.Reference} in {names.Property} by more than the margin of {names.Margin}.",
        (Question.Better, Answer.No) => $"{names.CandidateFirst} is not better than {names.Reference} in {names.Property} by more than the margin of {names.Margin}.",
        (Question.Difference, Answer.Yes) => $"The {size.Noun} is {size.Wide}.",
        _ => null,
    };

    private static string Scope(Names names, ResolvedRule rule) => rule.Rule.Estimand switch
    {
        Estimand.EqualHardness => $"at equal hardness, for these lots ({names.Condition})",
        Estimand.Sources => $"for heats of these sources in the long run ({names.Condition})",
        _ => $"for these lots as tested ({names.Condition})",
    };

    private static string Risk(ResolvedRule rule) => Size.Level(rule.Alpha);
}
