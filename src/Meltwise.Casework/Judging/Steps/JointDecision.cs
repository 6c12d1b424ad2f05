using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>The decision on several primary properties from the outcome and answer of each: one rule for the verdict and for the plan that simulates it.</summary>
internal static class JointDecision
{
    /// <summary>One outcome for all: agreement takes all of them; beyond a margin takes one, and where they point both ways only a difference is said; without an outcome of one there is none.</summary>
    /// <param name="primaries">Outcome of each property.</param>
    /// <param name="differs">Whether a difference is shown in at least one after Holm's correction.</param>
    public static Outcome OutcomeOf(ReadOnlySpan<Outcome> primaries, bool differs)
    {
        bool all = true, detectable = false, none = false, both = false;
        Outcome? beyond = null;
        foreach (Outcome outcome in primaries)
        {
            all &= IsEquivalent(outcome);
            detectable |= outcome == Outcome.EquivalentDetectable;
            none |= outcome == Outcome.NoVerdict;
            if (!IsBeyond(outcome)) continue;
            both |= beyond is { } other && other != outcome;
            beyond = outcome;
        }
        if (all) return detectable ? Outcome.EquivalentDetectable : Outcome.Equivalent;
        if (beyond is { } where) return both ? Outcome.DifferentOpen : where;
        if (none) return Outcome.NoVerdict;
        return differs ? Outcome.DifferentOpen : Outcome.Inconclusive;
    }

    /// <summary>The answer to the rule's question: every property must answer yes; for a difference one is enough, after Holm's correction.</summary>
    /// <param name="question">The question.</param>
    /// <param name="outcomes">Outcome of each property.</param>
    /// <param name="answers">Answer of each; open where it has no outcome.</param>
    /// <param name="differs">Whether a difference is shown in at least one after Holm's correction.</param>
    public static Answer AnswerTo(Question question, ReadOnlySpan<Outcome> outcomes, ReadOnlySpan<Answer> answers, bool differs)
    {
        bool agree = true, alike = true, beyond = false, yes = true, no = false;
        for (int i = 0; i < outcomes.Length; i++)
        {
            agree &= IsEquivalent(outcomes[i]);
            alike &= outcomes[i] == Outcome.Equivalent;
            beyond |= IsBeyond(outcomes[i]);
            yes &= answers[i] == Answer.Yes;
            no |= answers[i] == Answer.No;
        }
        return question switch
        {
            Question.Equivalent => DecisionTable.YesNo(agree, beyond),
            Question.Difference => DecisionTable.YesNo(differs, alike),
            _ => DecisionTable.YesNo(yes, no),
        };
    }

    public static bool IsEquivalent(Outcome outcome) => outcome is Outcome.Equivalent or Outcome.EquivalentDetectable;

    public static bool IsBeyond(Outcome outcome) => outcome is Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower;
}
