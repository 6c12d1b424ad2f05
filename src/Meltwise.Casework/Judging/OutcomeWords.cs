namespace Meltwise.Casework.Judging;

/// <summary>An outcome in a word and its qualifier, as page, terminal and report head it.</summary>
/// <param name="Word">The word: <c>Equivalent</c>.</param>
/// <param name="Qualifier">What narrows it: <c>a real but immaterial difference</c>; empty when the word is enough.</param>
/// <param name="Short">Both in few words, for a line of a table.</param>
public sealed record OutcomeWords(string Word, string Qualifier, string Short)
{
    /// <summary>The words that head a verdict: with several primary properties the qualifier says where the outcome lies.</summary>
    public static OutcomeWords Of(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        OutcomeWords plain = Of(verdict.Finding.Outcome);
        return verdict.Joint is { } joint ? plain with { Qualifier = joint.Qualifier } : plain;
    }

    /// <summary>The words of an outcome.</summary>
    public static OutcomeWords Of(Outcome outcome) => outcome switch
    {
        Outcome.Equivalent => new("Equivalent", "no difference detected", "equivalent"),
        Outcome.EquivalentDetectable => new("Equivalent", "a real but immaterial difference", "equivalent, real but immaterial"),
        Outcome.Better => new("Better", "by more than the margin", "better by more than the margin"),
        Outcome.Worse => new("Worse", "by more than the margin", "worse by more than the margin"),
        Outcome.Higher => new("Higher", "by more than the margin", "higher by more than the margin"),
        Outcome.Lower => new("Lower", "by more than the margin", "lower by more than the margin"),
        Outcome.DifferentOpen => new("Different", "whether it matters is not settled", "different, size open"),
        Outcome.Inconclusive => new("Inconclusive", "neither agreement nor difference is shown", "inconclusive"),
        _ => new("No verdict", "", "no verdict"),
    };
}
