using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>The bench's own history: what matched, what was left out and why, all pairs so far.</summary>
internal static class HistoryPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        if (v.History is null && v.Pairs is not { Pairs.Count: > 0 })
            return new("Own history", [], WhenEmpty: "No history was used.");
        List<Block> blocks = [];
        if (v.History is { } h)
        {
            blocks.Add(new Block.Paragraph($"{h.Matched.Coupons} coupons of {h.Matched.Heats} heats match for the trend and the sources; {h.MatchedForScatter.Coupons} coupons of {h.MatchedForScatter.Heats} heats for the scatter law. Matching asks for the same grade or family, route, geometry, orientation, test temperature and temper family; the lots themselves are not in it."));
            if (h.LeftOut.Count > 0)
                blocks.Add(new Block.Table([new("left out of the trend", 3), new("coupons", 1, true)], [.. h.LeftOut.Select(l => (IReadOnlyList<Rich>)[l.Reason, FigureNumbers.Count(l.Coupons)])]));
            if (h.TakenAsOneKind.Count > 0)
                blocks.Add(new Block.Paragraph($"Not recorded, so taken as of one kind: {ReportWords.List(h.TakenAsOneKind)}.", TextKind.Note));
        }
        if (v.Pairs is { Pairs.Count: > 0 } pairs)
            blocks.Add(new Block.Drawn(Pairs(v, pairs)));
        return new("Own history", blocks);
    }

    private static Figure Pairs(Verdict v, AllPairs pairs) => ForestFigure.Build(
        [.. pairs.Pairs.Select((p, i) => new ForestRow(p.Enquiry, p.AtEqualHardness ? "at equal hardness" : "as tested", p.Ratio, p.Lower, p.Upper, i == pairs.Pairs.Count - 1))],
        pairs.Mean is { } m ? (m.Estimate, new Limits(m.Lower, m.Upper)) : null, pairs.Prediction is { } n ? new Limits(n.Lower, n.Upper) : null,
        v.Rule is { MarginLow: { } low, MarginHigh: { } high } ? new Limits(low, high) : null, pairs.Orientation);
}
