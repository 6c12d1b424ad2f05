namespace Meltwise.Casework.Judging;

/// <summary>One property of a verdict as a line of a table, in words: what terminal, page and report show alike.</summary>
/// <param name="Property">The property.</param>
/// <param name="Role"><c>primary</c> or <c>secondary</c>.</param>
/// <param name="Outcome">Its outcome, or why there is none.</param>
/// <param name="Estimate">Ratio, or difference with its unit.</param>
/// <param name="Range">Narrow interval.</param>
/// <param name="Margin">Its margin.</param>
/// <param name="P">p value of no difference, after Holm's correction where there are several.</param>
public sealed record PropertyLine(string Property, string Role, string Outcome, string Estimate, string Range, string Margin, string P)
{
    /// <summary>What the columns mean.</summary>
    public const string Caption = "Range: the narrow one, held against the margin. p of no difference after Holm's correction, among the primary and among the secondary properties; secondary ones are exploratory.";

    private const string None = "–";

    /// <summary>The lines of a verdict, its first property first; empty when it judges one only.</summary>
    public static IReadOnlyList<PropertyLine> Of(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        if (verdict.OtherProperties is not { Count: > 0 } others) return [];
        double? p = verdict.Joint is { Primaries: [var first, ..] } ? first.PDifferenceHolm : verdict.Main?.PDifference;
        Reason? reason = verdict.Main?.Refused ?? (verdict.FirstOutcome == Judging.Outcome.NoVerdict ? verdict.Finding.Reason : null);
        return [Line(verdict.Rule, "primary", verdict.FirstOutcome, reason, verdict.Main, p), .. others.Select(o => Line(o.Rule, o.Role, o.Outcome, o.Reason, o.Main, o.PDifferenceHolm))];
    }

    private static PropertyLine Line(AppliedRule rule, string role, Outcome outcome, Reason? reason, EstimandResult? result, double? p)
    {
        string words = outcome == Judging.Outcome.NoVerdict ? $"no outcome{(reason is { } why ? $": {why.Code().Replace('-', ' ')}" : "")}" : OutcomeWords.Of(outcome).Short;
        if (result is not { Stands: true }) return new(rule.Property, role, words, None, None, MarginOf(rule), None);
        bool difference = rule.Scale == "linear" || rule.MarginKind == "absolute" && rule.Estimand == "as-tested";
        string unit = difference ? $" {rule.Unit}" : "";
        (double estimate, double lower, double upper) = difference && result is { Difference: { } d, DifferenceForMargin: { } n } ? (d.Estimate, n.Lower, n.Upper)
            : result is { Ratio: { } r, RatioForMargin: { } m } ? (r.Estimate, m.Lower, m.Upper) : (double.NaN, double.NaN, double.NaN);
        (string e, string low, string high) = Figures.Interval(estimate, lower, upper);
        return new(rule.Property, role, words, e + unit, $"{low} to {high}{unit}", MarginOf(rule), p is { } value ? Figures.Probability(value) : None);
    }

    private static string MarginOf(AppliedRule rule) => rule.MarginKind switch
    {
        "absolute" => $"±{Short(rule.MarginAbs!.Value)} {rule.Unit}",
        "hardness" => $"{Short(rule.MarginHrc!.Value)} HRC by the trend",
        _ => $"{Figures.Fixed(rule.MarginLow!.Value, 2)} to {Figures.Fixed(rule.MarginHigh!.Value, 2)}",
    };

    private static string Short(double value) => Math.Round(value, 2).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture);
}
