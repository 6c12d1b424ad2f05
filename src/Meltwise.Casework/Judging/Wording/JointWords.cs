namespace Meltwise.Casework.Judging;

/// <summary>The words of a verdict on several primary properties, and of a secondary one.</summary>
internal static class JointWords
{
    /// <summary>The verdict on the first property turned into one on all primaries: outcome, answer, sentence and claims.</summary>
    public static Verdict Complete(Verdict verdict, IReadOnlyList<Verdict> primaries, IReadOnlyList<OtherPropertyResult> others)
    {
        JointResult joint = verdict.Joint!;
        Outcome outcome = JointDecision.OutcomeOf([.. primaries.Select(p => p.Finding.Outcome)], joint.DifferentInAtLeastOne == Answer.Yes);
        bool refused = outcome == Outcome.NoVerdict;
        Verdict? missing = refused ? primaries.First(p => p.Finding.Outcome == Outcome.NoVerdict) : null;
        Finding own = verdict.Finding;
        string sentence = string.Join(" ", primaries.Select(p => p.Finding.Sentence).Prepend(Sentence(joint, verdict.Rule)));
        return verdict with
        {
            Finding = own with
            {
                Outcome = outcome,
                Answer = refused ? null : JointStep.AnswerTo(verdict.Rule.Question, joint),
                Reason = missing?.Finding.Reason,
                Missing = missing is null ? null : ReferenceEquals(missing, primaries[0]) ? missing.Finding.Missing : $"{missing.Rule.Property}: {missing.Finding.Missing}",
                Sentence = sentence,
                Text = own.Warning is null ? sentence : $"{own.Warning}\n{sentence}",
                MayClaim = refused ? [] : [.. Claims(joint, verdict.Rule), .. primaries.SelectMany(p => p.Finding.MayClaim)],
                MayNotClaim = MayNot(outcome, verdict, [.. primaries.Select(p => p.Rule.Property)]),
                Firmness = own.Firmness is { } firm ? $"Of {verdict.Rule.Property} alone: {char.ToLowerInvariant(firm[0])}{firm[1..]}" : null,
            },
            Notes =
            [
                .. verdict.Notes,
                $"{primaries.Count} primary properties: all equivalent takes each, uncorrected (intersection-union test, Berger 1982); different in at least one takes Holm's correction (Holm 1979).",
                .. others.Any(o => o.Role == "primary" && o.Rule.Estimand != verdict.Rule.Estimand) ? new[] { "Hardness itself is judged as tested." } : [],
            ],
        };
    }

    /// <summary>Where the joint outcome lies, for the head of a verdict.</summary>
    public static string Qualifier(IReadOnlyList<Verdict> primaries)
    {
        string In(Func<Outcome, bool> which) => Names.List([.. primaries.Where(p => which(p.Finding.Outcome)).Select(p => p.Rule.Property)]);
        if (primaries.All(p => JointDecision.IsEquivalent(p.Finding.Outcome))) return $"in all {primaries.Count} primary properties{(primaries.Any(p => p.Finding.Outcome == Outcome.EquivalentDetectable) ? $"; a real but immaterial difference in {In(o => o == Outcome.EquivalentDetectable)}" : "")}";
        Outcome[] beyond = [.. primaries.Select(p => p.Finding.Outcome).Where(JointDecision.IsBeyond).Distinct()];
        if (beyond.Length > 0) return string.Join(", ", beyond.Select(b => $"{(beyond.Length == 1 ? "" : b.Code() + " ")}in {In(o => o == b)}")) + ", by more than the margin";
        if (primaries.Any(p => p.Finding.Outcome == Outcome.NoVerdict)) return $"no outcome in {In(o => o == Outcome.NoVerdict)}";
        string open = In(o => o is Outcome.Inconclusive or Outcome.DifferentOpen);
        return $"agreement in all {primaries.Count} primary properties is not shown: {open} open";
    }

    /// <summary>What a secondary property is, and whether a difference in it may be claimed.</summary>
    public static string OfSecondary(Verdict v, bool claimed, double holm, int family)
    {
        if (v.Finding.Outcome is Outcome.NoVerdict) return "Secondary.";
        bool seen = v.Main?.PDifference < v.Rule.Alpha;
        string among = family == 1 ? "" : $" after Holm's correction over {family} secondary properties";
        return !seen ? "Secondary, exploratory." : claimed ? $"Secondary, exploratory; the difference holds{among} ({Figures.P(holm)})." : $"Secondary, exploratory; a difference is not claimed{among} ({Figures.P(holm)}).";
    }

    private static string Sentence(JointResult joint, AppliedRule rule)
    {
        string each = string.Join(", ", joint.Primaries.Select(p => $"{p.Property} {OutcomeWords.Of(p.Outcome).Short}"));
        string all = joint.AllEquivalent switch
        {
            Answer.Yes => "they agree in all of them, each within its margin",
            Answer.No => $"they do not agree in all of them: {Names.List([.. joint.Primaries.Where(p => JointDecision.IsBeyond(p.Outcome)).Select(p => p.Property)])} beyond the margin",
            _ => "agreement in all of them is not shown",
        };
        string any = joint.DifferentIn.Count > 0
            ? $" A difference is shown in {Names.List(joint.DifferentIn)}, after Holm's correction over {joint.Primaries.Count} properties."
            : " No difference is shown in any of them after Holm's correction.";
        string asked = rule.Question == "equivalent" ? "" : $" To the question of the rule ({rule.Question.Replace('-', ' ')}) the answer takes {(rule.Question == "difference" ? "one" : "all")} of them: {JointStep.AnswerTo(rule.Question, joint).Code()}.";
        return $"{joint.Primaries.Count} primary properties, judged together ({each}): {all}.{any}{asked}";
    }

    private static IEnumerable<string> Claims(JointResult joint, AppliedRule rule)
    {
        if (joint.AllEquivalent == Answer.Yes)
            yield return $"The lots agree in {Names.List([.. joint.Primaries.Select(p => p.Property)])} together, each within its own margin. Risk of a false claim at most about {Size.Level(rule.Alpha)} for all of them if the model holds.";
        if (joint.DifferentIn.Count > 0)
            yield return $"The lots differ in at least one of {joint.Primaries.Count} properties: {Names.List(joint.DifferentIn)} ({Size.Level(rule.Alpha)} risk for all of them).";
    }

    private static IReadOnlyList<string> MayNot(Outcome outcome, Verdict verdict, IReadOnlyList<string> properties) =>
        Judging.Claims.MayNot(outcome == Outcome.NoVerdict ? null : outcome, Names.List(properties), verdict);
}
