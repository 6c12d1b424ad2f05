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
            blocks.AddRange(EqualHardness(b));
        return new("Hardness", blocks);
    }

    private static IEnumerable<Block> EqualHardness(EqualHardness b)
    {
        if (b.Refused is { } reason)
        {
            yield return new Block.Paragraph($"No answer at equal hardness: {OutcomeSigns.Words(reason)}.{(b.Missing is null ? "" : " " + ReportWords.Ended(ReportWords.Sentence(b.Missing)))}");
            yield break;
        }
        if (b.PerHrc is { } worth)
            yield return new Block.Paragraph(Rich.Led("What 1 HRC is worth.", $"At {AxisTicks.Write(worth.AtHrc, 1)} HRC {FigureNumbers.Signed(worth.Estimate)} {worth.Unit} ({FigureNumbers.Signed(worth.Lower)} to {FigureNumbers.Signed(worth.Upper)}, 95 %){(b.PerHrcOtherUnit is { } o ? $", or {FigureNumbers.Signed(o.Estimate)} {o.Unit}" : "")}; slope {b.LogPerHrc?.SlopeKind ?? "of the trend"}, from {b.Heats} heats."), TextKind.Note);
        if (b.Attenuation is { } lambda)
            yield return new Block.Paragraph(Rich.Led("Error in hardness.", $"The heat means of hardness are reliable to λ = {AxisTicks.Write(lambda, 2)}; the slope is corrected for it."), TextKind.Note);
    }
}
