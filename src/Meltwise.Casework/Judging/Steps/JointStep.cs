using Meltwise.Domain;
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
            AllEquivalent = primaries.All(v => JointDecision.IsEquivalent(v.Finding.Outcome)) ? Answer.Yes : primaries.Any(v => JointDecision.IsBeyond(v.Finding.Outcome)) ? Answer.No : Answer.Open,
            PAllEquivalent = equivalence.All(p => p is not null) ? IntersectionUnion.P([.. equivalence.Select(p => p!.Value)]) : null,
            DifferentInAtLeastOne = differentIn.Length > 0 ? Answer.Yes : Answer.No,
            DifferentIn = differentIn,
            Qualifier = JointWords.Qualifier(primaries),
        };
    }

    /// <summary>The answer to the rule's question.</summary>
    public static Answer AnswerTo(string question, JointResult joint) => JointDecision.AnswerTo(
        Enum.GetValues<Question>().First(q => q.Code() == question),
        [.. joint.Primaries.Select(p => p.Outcome)], [.. joint.Primaries.Select(p => p.Answer ?? Answer.Open)], joint.DifferentInAtLeastOne == Answer.Yes);

    private static bool Stands(Verdict verdict) => verdict.Finding.Outcome != Outcome.NoVerdict;
}
