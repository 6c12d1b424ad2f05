using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>The rule in its frame, and every amendment with what was, what became and why.</summary>
internal static class RulePart
{
    public static ReportPart Of(ReportInput input)
    {
        Enquiry e = input.Enquiry;
        Verdict v = input.Verdict;
        bool locked = e.Lock is not null;
        string legend = e.Lock is { } l ? $"Locked {ReportWords.Stamp(l.AtUtc)} · {ReportWords.Digest(l.Digest)}" : "Not locked";
        List<Block> blocks = [new Block.RuleFrame(locked, legend, e.Title, Terms(input))];
        int number = 0;
        foreach (Amendment a in e.Amendments)
            blocks.Add(new Block.Paragraph(Rich.Of([new Run($"Amendment {++number}.", RunStyle.Strong), new Run($" {ReportWords.Stamp(a.AtUtc)}. "), .. Changes(a.Was, a.Became), new Run($"Reason: {ReportWords.Ended(a.Reason)}")]), TextKind.Note));
        if (v.Rule.Standing is "unlocked" or "not stamped" or "locked late")
            blocks.Add(new Block.Paragraph("Nothing shows that the rule was fixed before the readings were seen.", TextKind.Note));
        return new("Rule and amendments", blocks, locked ? "locked" : "open", locked);
    }

    private static List<Term> Terms(ReportInput input)
    {
        AppliedRule rule = input.Verdict.Rule;
        List<Term> terms =
        [
            new("Applies to", $"heats {ReportWords.List([.. input.Enquiry.ReferenceHeats, .. input.Enquiry.CandidateHeats])}; not to later heats"),
            new("Property", $"{rule.Property}, {input.Verdict.Stratum.Condition}"),
            new("Margin", Margin(rule)),
            new("Kind of question", $"{rule.Question.Replace('-', ' ')}; {FigureNumbers.Level(rule.Alpha)} risk on each side{(rule.Look is { } look ? $", look {look} of 2" : "")}"),
            new("Judged", rule.Estimand switch { "equal-hardness" => rule.LadderSlope == true ? "at equal hardness, by the bench’s temper ladders" : "at equal hardness, by the bench’s own trend", "sources" => "for the two sources in general, heats as the unit", _ => "as tested: these two lots" }),
            new("Scatter", rule.Scatter == "lent" ? "moderated by the bench’s scatter law" : "each lot’s own"),
            new("Suspect coupons", "flagged, never dropped by a test; out only for a physical cause"),
        ];
        if (rule.SessionSd > 0 || rule.SessionSdFrom is not null)
            terms.Add(new("Hardness sessions", $"scatter by {FigureNumbers.Value(rule.SessionSd)} HRC{(rule.SessionSdFrom is { } from ? $", from {from}" : ", as typed")}"));
        foreach (OtherPropertyResult other in input.Verdict.OtherProperties ?? [])
            terms.Add(new(other.Role == "primary" ? "Must agree too" : "Secondary", Rich.Of([new Run(other.Property + ": "), .. Margin(other.Rule).Runs])));
        if (input.Enquiry.PaidBy is { } paid)
            terms.Add(new("Paid by", paid));
        return terms;
    }

    private static Rich Margin(AppliedRule rule) => rule.MarginKind switch
    {
        "absolute" when rule.MarginAbs is { } plusMinus => $"difference of ±{FigureNumbers.Value(plusMinus)} {rule.Unit}",
        "hardness" when rule.MarginHrc is { } hrc => $"what {FigureNumbers.Value(hrc)} HRC is worth, through the trend",
        _ when rule is { MarginLow: { } low, MarginHigh: { } high } => Rich.Of(new Run("ratio candidate / reference from "), new Run(FigureNumbers.Ratio(low), RunStyle.Strong), new Run(" to "), new Run(FigureNumbers.Ratio(high), RunStyle.Strong)),
        _ => Rich.Unknown,
    };

    private static IEnumerable<Run> Changes(DecisionRule was, DecisionRule became)
    {
        foreach ((string name, string before, string after) in RuleDifference.Of(was, became))
        {
            yield return new Run($"{ReportWords.Sentence(name)}: ");
            yield return new Run(before, RunStyle.Struck);
            yield return new Run($" {after}. ");
        }
    }
}
