using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Everything excluded, invalid, censored or suspect, all of it, and how firm the outcome is.</summary>
internal static class LeftOutPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        List<Block> blocks = [];
        if (v.LeftOut.Count == 0)
            blocks.Add(new Block.Paragraph("No coupon was excluded or found invalid."));
        else
            blocks.Add(new Block.Table([new("coupon", 0.8), new("lot", 0.7), new($"value, {v.Rule.Unit}", 0.7, true), new("state", 0.9), new("cause", 2), new("stamp", 1.3), new("in the verdict", 0.8)],
                [.. v.LeftOut.Select(c => (IReadOnlyList<Rich>)[Rich.Of(new Run(c.Coupon, RunStyle.Strong)), c.Lot, c.Value is { } x ? $"[{FigureNumbers.Value(x)}]" : "–", c.State, c.Cause is null ? Rich.Unknown : c.Cause, c.Stamp ?? "–", c.Enters ? "yes" : "no"])]));
        if (v.WithExcluded is { } with)
            blocks.Add(new Block.Paragraph($"With every excluded coupon back in the outcome is: {OutcomeWords.Of(with.Outcome).Short}{(with.Ratio is { } r ? $", ratio {FigureNumbers.Ratio(r.Estimate)} ({FigureNumbers.Ratio(r.Lower)} to {FigureNumbers.Ratio(r.Upper)})" : "")}."));
        foreach (Suspect s in v.Suspects)
            blocks.Add(new Block.Paragraph(Rich.Led("Suspect, kept.", $"{s.Coupon} of {s.Lot}, {FigureNumbers.Value(s.Value)} {v.Rule.Unit}: {s.Test}{(s.CriticalValue > 0 ? $", {AxisTicks.Write(s.Statistic, 2)} against {AxisTicks.Write(s.CriticalValue, 2)}" : "")}. Nothing is dropped by a test."), TextKind.Note));
        if (v.LeaveOneOut is { Count: > 0 } without)
            blocks.Add(new Block.Paragraph(Rich.Led("Coupons that decide.", $"{string.Join("; ", without.Select((w, i) => $"{(i == 0 ? "Without" : "without")} {w.Key} the outcome would be {OutcomeWords.Of(w.Value).Short}"))}."), TextKind.Note));
        if (FirmnessFigure.Build(v) is { } firmness)
            blocks.Add(new Block.Drawn(firmness));
        return new("What was left out, and how firm it is", blocks);
    }
}
