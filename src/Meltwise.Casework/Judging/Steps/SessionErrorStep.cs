using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>What a scatter of hardness between sessions would do to the comparison at equal hardness, where the rule leaves it open: said in words, never applied.</summary>
internal static class SessionErrorStep
{
    // What an unrecorded scatter may well be; the variant of the verdict's firmness takes the same.
    private const double Supposed = 0.3;

    /// <summary>The sentences; none when the comparison at equal hardness does not stand on a trend between heats.</summary>
    /// <param name="main">The comparison as it was judged.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="own">What the bench's own checks tell; null when they tell nothing.</param>
    public static IEnumerable<string> Say(Assessment main, DecisionRule rule, SessionScatter? own)
    {
        if (main.EqualHardnessStep is not { NamesLadder: false, Trend: not null } || main.EqualHardness is not { Stands: true, Outcome: { } outcome }) yield break;
        if (rule.SessionSdHrc is { } named)
        {
            if (named > 0) yield return $"Scatter of hardness between sessions: {Number(named)} HRC, {(rule.SessionSdFrom is null ? "as the rule has it" : "as the bench's own checks gave it when the rule was written")}; taken into the slope.";
            if (own is { IsEnough: true, Estimate: { } e } && (named < e.Lower || named > e.Upper))
                yield return $"The rule takes a scatter of hardness between sessions of {Number(named)} HRC; the bench's own checks of {own.Instrument} do not agree with it: {own.InWords}.";
            yield break;
        }
        if (own is { IsEnough: true, Offered: { } known })
            yield return $"The rule leaves the scatter of hardness between sessions open, though the bench can tell it from its own checks of {own.Instrument}: {own.InWords}. 0 was taken; with {Number(known)} HRC {WhatIf(main, outcome, known)}.";
        else if (own is not null)
            yield return $"The bench's own checks of {own.Instrument} do not tell the scatter of hardness between sessions yet: {own.Missing}.";
        if (own?.Offered is null)
            yield return $"The rule leaves the scatter of hardness between sessions open: 0 was taken. Were it {Number(Supposed)} HRC, {WhatIf(main, outcome, Supposed)}.";
    }

    private static string WhatIf(Assessment main, Outcome outcome, double sessionSd)
    {
        if (main.EqualHardnessStep!.Fit(main.EqualHardnessStep.Sources, sessionSd) is not { } trend || !EqualHardnessStep.IsReliable(trend))
            return "there would be no verdict at equal hardness: the heats of the history differ in hardness hardly more than its error";
        JudgedContrast judged = main.AtEqualHardness(main.EqualHardnessStep.SlopeOf(trend), sessionSd);
        string means = judged.Outcome == outcome ? $"the outcome at equal hardness would be the same, {Sentences.InWords(outcome)}" : $"the outcome at equal hardness would be another, {Sentences.InWords(judged.Outcome)}";
        (double low, double high) = judged.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable ? judged.Narrow : judged.Wide;
        bool isRatio = main.Rule.IsLog;
        (string estimate, string lower, string upper) = isRatio
            ? Figures.Interval(Math.Exp(judged.Estimate.Estimate), Math.Exp(low), Math.Exp(high))
            : Figures.Interval(judged.Estimate.Estimate, low, high);
        return $"{means}: {(isRatio ? "ratio" : "difference")} {estimate} ({lower} to {upper})";
    }

    private static string Number(double hrc) => Figures.Fixed(hrc, 2);
}
