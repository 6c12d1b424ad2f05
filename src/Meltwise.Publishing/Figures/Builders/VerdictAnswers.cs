using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Figures;

/// <summary>Two limits.</summary>
public readonly record struct Limits(double Low, double High);

/// <summary>One answer of a verdict as a row of a figure or a table.</summary>
/// <param name="Question">The question in words: <c>A, as tested</c>.</param>
/// <param name="IsRule">Whether the rule asks this one.</param>
/// <param name="Word">Outcome.</param>
/// <param name="Qualifier">What qualifies it, or why it is refused.</param>
/// <param name="Sign">Sign.</param>
/// <param name="Estimate">Ratio or difference; null when refused.</param>
/// <param name="Narrow">Narrow interval.</param>
/// <param name="Wide">Wide interval.</param>
/// <param name="Numbers">The same as lines of text.</param>
public sealed record VerdictAnswer(
    string Question, bool IsRule, string Word, string Qualifier, OutcomeSign Sign, double? Estimate, Limits? Narrow, Limits? Wide, IReadOnlyList<IReadOnlyList<TextRun>> Numbers)
{
    /// <summary>True for the mean over all pairs: its narrow interval is the mean's at 95 %, its wide one where the next pair is expected.</summary>
    public bool IsMeanOfPairs { get; init; }
}

/// <summary>Collects the answers of a verdict: A, B and C as far as they were asked or refused, D where there are pairs.</summary>
public static class VerdictAnswers
{
    /// <summary>The answers in order.</summary>
    public static IEnumerable<VerdictAnswer> Of(Verdict verdict)
    {
        string rule = verdict.Rule.Estimand;
        if (verdict.AsTested is { } a)
            yield return Row("A, as tested", rule == "as-tested", a, null);
        if (verdict.EqualHardness is { } b)
            yield return Row("B, at equal hardness", rule == "equal-hardness", b, Slope(b));
        if (verdict.Sources is { } c)
            yield return Row("C, the two sources", rule == "sources", c, c is { HeatsToSettle: { } heats, Outcome: Outcome.Inconclusive or Outcome.DifferentOpen } ? $"{heats} heats a source to settle" : null);
        if (verdict.Pairs is { Mean: { } mean } pairs)
            yield return new($"D, all {pairs.Count} pairs", false, "Mean of the pairs", "thin line: the next pair", OutcomeSign.Empty, mean.Estimate, new(mean.Lower, mean.Upper), pairs.Prediction is { } p ? new(p.Lower, p.Upper) : new(mean.Lower, mean.Upper), Lines(mean.Estimate, new(mean.Lower, mean.Upper), true, "95 % of the mean")) { IsMeanOfPairs = true };
    }

    private static string? Slope(EqualHardness b) =>
        b.LogPerHrc is { } slope ? $"slope {AxisTicks.Write(100 * (Math.Exp(slope.Estimate) - 1), 1)} ± {AxisTicks.Write(100 * Math.Exp(slope.Estimate) * slope.StandardError, 1)} % a HRC" : null;

    private static VerdictAnswer Row(string question, bool isRule, EstimandResult result, string? note)
    {
        if (result.Refused is { } reason)
            return new(question, isRule, "No answer", OutcomeSigns.Words(reason), OutcomeSign.Empty, null, null, null, [[new(result.Needed is { } n ? $"needs {n}" : "refused", TextRole.Quiet)]]);
        if (result.Outcome is not { } outcome)
            return new(question, isRule, "No answer", "not judged", OutcomeSign.Empty, null, null, null, [[new("not judged", TextRole.Quiet)]]);
        bool ratio = result.Ratio is not null;
        double? estimate = result.Ratio?.Estimate ?? result.Difference?.Estimate;
        Limits? wide = result.Ratio is { } r ? new(r.Lower, r.Upper) : result.Difference is { } d ? new(d.Lower, d.Upper) : null;
        Limits? narrow = result.RatioForMargin is { } rn ? new(rn.Lower, rn.Upper) : result.DifferenceForMargin is { } dn ? new(dn.Lower, dn.Upper) : null;
        string wideLine = wide is { } w ? $"{FigureNumbers.Level(result.Ratio?.Level ?? result.Difference!.Level)}: {Range(w, ratio)}" : "";
        IReadOnlyList<IReadOnlyList<TextRun>> numbers = estimate is { } e
            ? [.. Lines(e, narrow ?? wide ?? default, ratio, wideLine), .. note is null ? Array.Empty<IReadOnlyList<TextRun>>() : [[new TextRun(note, TextRole.Quiet)]]]
            : [[new("no estimate", TextRole.Quiet)]];
        return new(question, isRule, OutcomeSigns.Word(outcome), OutcomeSigns.Qualifier(outcome), OutcomeSigns.Sign(outcome), estimate, narrow, wide, numbers);
    }

    private static IReadOnlyList<IReadOnlyList<TextRun>> Lines(double estimate, Limits range, bool ratio, string? second)
    {
        List<IReadOnlyList<TextRun>> lines = [[new(ratio ? FigureNumbers.Ratio(estimate) : FigureNumbers.Signed(estimate), TextRole.TableStrong), new("  " + Range(range, ratio), TextRole.Table)]];
        if (!string.IsNullOrEmpty(second))
            lines.Add([new(second)]);
        return lines;
    }

    private static string Range(Limits l, bool ratio) => ratio ? $"{FigureNumbers.Ratio(l.Low)} to {FigureNumbers.Ratio(l.High)}" : $"{FigureNumbers.Signed(l.Low)} to {FigureNumbers.Signed(l.High)}";
}
