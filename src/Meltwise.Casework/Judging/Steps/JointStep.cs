using Meltwise.Statistics.Multiplicity;

namespace Meltwise.Casework.Judging;

/// <summary>Step 0 with several primary properties: all equivalent takes each, uncorrected (intersection-union); different in at least one takes Holm's correction.</summary>
internal static class JointStep
{
    public static JointResult Of(IReadOnlyList<Verdict> primaries, IReadOnlyList<double> holm, double alpha)
    {
        double?[] equivalence = [.. primaries.Select(v => Stands(v) ? v.Main?.PEquivalence : null)];
        string[] differentIn = [.. primaries.Where((v, i) => Stands(v) && holm[i] < alpha).Select(v => v.Rule.Property)];
        return new()
        {
            Primaries = [.. primaries.Select((v, i) => new JointProperty(v.Rule.Property, v.Finding.Outcome, v.Finding.Answer, equivalence[i], Stands(v) ? v.Main?.PDifference : null, Stands(v) ? holm[i] : null))],
            AllEquivalent = primaries.All(v => IsEquivalent(v.Finding.Outcome)) ? Answer.Yes : primaries.Any(v => IsBeyond(v.Finding.Outcome)) ? Answer.No : Answer.Open,
            PAllEquivalent = equivalence.All(p => p is not null) ? IntersectionUnion.P([.. equivalence.Select(p => p!.Value)]) : null,
            DifferentInAtLeastOne = differentIn.Length > 0 ? Answer.Yes : Answer.No,
            DifferentIn = differentIn,
            Qualifier = JointWords.Qualifier(primaries),
        };
    }

    /// <summary>One outcome for all: agreement takes all of them; beyond a margin takes one, and where they point both ways only a difference is said; without an outcome of one there is none.</summary>
    public static Outcome OutcomeOf(IReadOnlyList<Outcome> primaries, bool differs)
    {
        if (primaries.All(IsEquivalent)) return primaries.Contains(Outcome.EquivalentDetectable) ? Outcome.EquivalentDetectable : Outcome.Equivalent;
        Outcome[] beyond = [.. primaries.Where(IsBeyond).Distinct()];
        if (beyond.Length > 0) return beyond.Length == 1 ? beyond[0] : Outcome.DifferentOpen;
        if (primaries.Contains(Outcome.NoVerdict)) return Outcome.NoVerdict;
        return differs ? Outcome.DifferentOpen : Outcome.Inconclusive;
    }

    /// <summary>The answer to the rule's question: every property must answer yes; for a difference one is enough, after Holm's correction.</summary>
    public static Answer AnswerTo(string question, JointResult joint) => question switch
    {
        "equivalent" => joint.AllEquivalent,
        "difference" => joint.DifferentInAtLeastOne == Answer.Yes ? Answer.Yes
            : joint.Primaries.All(p => p.Outcome == Outcome.Equivalent) ? Answer.No : Answer.Open,
        _ => joint.Primaries.All(p => p.Answer == Answer.Yes) ? Answer.Yes
            : joint.Primaries.Any(p => p.Answer == Answer.No) ? Answer.No : Answer.Open,
    };

    public static bool IsEquivalent(Outcome outcome) => outcome is Outcome.Equivalent or Outcome.EquivalentDetectable;

    public static bool IsBeyond(Outcome outcome) => outcome is Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower;

    private static bool Stands(Verdict verdict) => verdict.Finding.Outcome != Outcome.NoVerdict;
}
