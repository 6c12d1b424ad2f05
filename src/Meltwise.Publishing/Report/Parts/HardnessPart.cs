using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Hardness of the lots, and what remains of the difference at equal hardness.</summary>
internal static class HardnessPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        if (v.Lots.Any(l => l.HardnessMean is null) || v.Lots.Count != 2)
            return new("Hardness", [], WhenEmpty: "Hardness is missing in a lot, so nothing is said at equal hardness.");
        double difference = v.EqualHardness?.HardnessDifference ?? (v.Lots[1].HardnessMean!.Value - v.Lots[0].HardnessMean!.Value);
        List<Block> blocks = [new Block.Paragraph($"{ReportWords.List(v.Lots[1].Heat)} is {AxisTicks.Write(Math.Abs(difference), 1)} HRC {(difference >= 0 ? "harder" : "softer")} than {ReportWords.List(v.Lots[0].Heat)}.")];
        if (input.Trend is { } trend)
            blocks.Add(new Block.Drawn(TrendFigure.Build(trend with { Height = 340 })));
        if (v.EqualHardness is { } b)
            blocks.AddRange(EqualHardness(b, v.Rule));
        return new("Hardness", blocks);
    }

    private static IEnumerable<Block> EqualHardness(EqualHardness b, AppliedRule rule)
    {
        if (b.Refused is { } reason)
        {
            yield return new Block.Paragraph($"No answer at equal hardness: {OutcomeSigns.Words(reason)}.{(b.Missing is null ? "" : " " + ReportWords.Ended(ReportWords.Sentence(b.Missing)))}");
            if (b.Ladder is { } lines)
                yield return Levels(lines, rule);
            yield break;
        }
        if (b.PerHrc is { } worth)
            yield return new Block.Paragraph(Rich.Led("What 1 HRC is worth.", $"At {AxisTicks.Write(worth.AtHrc, 1)} HRC {FigureNumbers.Signed(worth.Estimate)} {worth.Unit} ({FigureNumbers.Signed(worth.Lower)} to {FigureNumbers.Signed(worth.Upper)}, 95 %){(b.PerHrcOtherUnit is { } o ? $", or {FigureNumbers.Signed(o.Estimate)} {o.Unit}" : "")}; slope {b.SlopeKind ?? "of the trend"}{(b.Heats is { } heats ? $", from {heats} heats" : "")}."), TextKind.Note);
        if (b.Ladder is { } ladder)
        {
            yield return new Block.Paragraph(Rich.Led("Temper ladder of the lots.", $"Both reach {AxisTicks.Write(ladder.Overlap[0], 1)} to {AxisTicks.Write(ladder.Overlap[1], 1)} HRC; parallel lines: {Casework.Judging.Figures.P(ladder.ParallelismP)}."), TextKind.Note);
            yield return Levels(ladder, rule);
        }
        else if (b.SlopeIsOfLadder)
            yield return new Block.Paragraph(Rich.Led("Error in hardness.", "The slope of the temper ladders is not corrected for it."), TextKind.Note);
        else if (b.Attenuation is { } lambda)
            yield return new Block.Paragraph(Rich.Led("Error in hardness.", $"The heat means of hardness are reliable to λ = {AxisTicks.Write(lambda, 2)}; the slope is corrected for it."), TextKind.Note);
    }

    private static Block.Table Levels(LadderOfLots ladder, AppliedRule rule) => new(
        [new("treatment", 1.6), new("heat", 0.8), new("n", 0.4, true), new("HRC", 0.6, true), new($"{(rule.Scale == "log" ? "geometric mean" : "mean")}, {rule.Unit}", 1.1, true)],
        [.. ladder.Levels.Select(l => (IReadOnlyList<Rich>)[l.Treatment, l.Heat, FigureNumbers.Count(l.N), AxisTicks.Write(l.HardnessMean, 1), FigureNumbers.Value(l.Mean)])],
        "Levels of the temper ladder; hardness is the mean of the level.");
}
