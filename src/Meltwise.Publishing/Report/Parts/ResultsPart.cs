using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Results: every coupon by load, the lots in numbers, instruments and their verification.</summary>
internal static class ResultsPart
{
    private const int FewestInOrder = 6;

    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        List<Block> blocks = [];
        if (ReadingsFigure.Build(v) is { } readings)
            blocks.Add(new Block.Drawn(readings, false));
        if (Order(v) is { } order)
            blocks.Add(new Block.Drawn(order));
        if (v.Lots.Count > 0)
            blocks.Add(Lots(v));
        blocks.AddRange(Comparison(v));
        blocks.AddRange(Instruments(input));
        return new("Results", blocks, NewPage: true);
    }

    // Drift of a machine or of a person shows against the order of testing.
    private static Figure? Order(Verdict v)
    {
        OrderedReading[] readings = [.. v.Lots.SelectMany((l, i) => l.Coupons.Where(c => c.Order is not null).Select(c => new OrderedReading(c.Order!.Value, c.Value, i == 0 ? MarkShape.Ring : MarkShape.Lozenge, c.Code ?? $"{c.Heat} {c.Coupon}")))];
        return readings.Length < FewestInOrder ? null : OrderFigure.Build(v.Rule.Property, v.Rule.Unit, [.. readings.OrderBy(r => r.Order)], null, v.Rule.Scale == "log");
    }

    private static Block.Table Lots(Verdict v)
    {
        string unit = v.Rule.Unit;
        bool log = v.Rule.Scale == "log";
        Column[] columns = [new("lot", 1), new("n", 0.5, true), new($"{(log ? "geometric mean" : "mean")}, {unit}", 1.2, true), new($"SD, {unit}", 0.8, true), new("spread, %", 0.8, true), new($"lowest, {unit}", 0.9, true), new($"highest, {unit}", 0.9, true), new("HRC", 0.7, true)];
        return new(columns, [.. v.Lots.Select(l => (IReadOnlyList<Rich>)
        [
            Rich.Of(new Run(ReportWords.List(l.Heat), RunStyle.Strong)), FigureNumbers.Count(l.N), l.N > 0 ? FigureNumbers.Value(l.GeometricMean ?? l.Mean) : "–", l.Sd is { } sd ? FigureNumbers.Value(sd) : "–",
            l.LogSd is { } s ? AxisTicks.Write(100 * s, 1) : "–", l.Range.Count > 0 ? FigureNumbers.Value(l.Range[0]) : "–", l.Range.Count > 0 ? FigureNumbers.Value(l.Range[^1]) : "–", l.HardnessMean is { } h ? AxisTicks.Write(h, 1) : Rich.Unknown,
        ])], $"{ReportWords.Sentence(v.Rule.Property)}, {v.Stratum.Condition}; valid coupons.{(log ? " Spread: standard deviation of the logarithms." : "")}");
    }

    private static IEnumerable<Block> Comparison(Verdict v)
    {
        List<IReadOnlyList<Rich>> rows = [.. VerdictAnswers.Of(v).Select(a => (IReadOnlyList<Rich>)[a.Question, a.IsMeanOfPairs ? NextPair(a) : $"{a.Word}: {a.Qualifier}", .. Numbers(a)])];
        if (rows.Count > 0)
        {
            string kind = v.Rule.Scale == "log" ? "ratio" : $"difference, {v.Rule.Unit}";
            yield return new Block.Table([new("question", 1.1), new("outcome", 1.7), new(kind, 0.6, true), new($"{FigureNumbers.Level(1 - (2 * v.Rule.Alpha))} range", 0.95, true), new($"{FigureNumbers.Level(1 - v.Rule.Alpha)} range", 0.95, true)], rows, "Ranges of values the data are compatible with. Agreement is claimed by the narrow, difference by the wide one.");
        }
        if (v.AsTested?.Scatter is { } scatter)
            yield return new Block.Paragraph(Rich.Led("Scatter.", $"Ratio of the lots’ standard deviations {FigureNumbers.Ratio(scatter.RatioOfSd)} ({FigureNumbers.Ratio(scatter.Lower)} to {FigureNumbers.Ratio(scatter.Upper)}, 95 %), allowing for the scatter law."), TextKind.Note);
        foreach (LowestCoupon low in v.AsTested?.LowestOfSeveral ?? [])
            yield return new Block.Paragraph(Rich.Led("Low tail.", $"Lowest coupon of {low.Lot}: {FigureNumbers.Value(low.Value)} {v.Rule.Unit}; chance of one as low under the scatter law {AxisTicks.Write(low.Chance, 2)}."), TextKind.Note);
    }

    private static IEnumerable<Rich> Numbers(VerdictAnswer a)
    {
        string Write(double value) => a.Numbers.Count > 0 && a.Numbers[0].Any(r => r.Text.StartsWith('+') || r.Text.Contains("  +", StringComparison.Ordinal)) ? FigureNumbers.Signed(value) : FigureNumbers.Ratio(value);
        yield return a.Estimate is { } e ? Rich.Of(new Run(Write(e), RunStyle.Strong)) : "–";
        // The mean of the pairs has an interval at 95 % only.
        (Limits? narrow, Limits? wide) = a.IsMeanOfPairs ? (null, a.Narrow) : (a.Narrow, a.Wide);
        yield return narrow is { } n ? $"{Write(n.Low)} to {Write(n.High)}" : "–";
        yield return wide is { } w ? $"{Write(w.Low)} to {Write(w.High)}" : "–";
    }

    private static string NextPair(VerdictAnswer mean) =>
        mean.Wide is { } next && next != mean.Narrow ? $"{mean.Word}; the next one {FigureNumbers.Ratio(next.Low)} to {FigureNumbers.Ratio(next.High)}" : mean.Word;

    private static IEnumerable<Block> Instruments(ReportInput input)
    {
        DateOnly tested = input.Enquiry.StagesUtc.TryGetValue(EnquiryStage.Tested, out DateTime at) ? DateOnly.FromDateTime(at) : DateOnly.MaxValue;
        foreach (Instrument i in input.Instruments)
        {
            // The one that was in force while the coupons were tested, not one made since.
            Verification? last = input.Verifications.Where(v => v.Instrument == i.Name && v.On <= tested).OrderBy(v => v.On).LastOrDefault();
            string verified = last is null ? "no verification on record when the coupons were tested" : $"verified {ReportWords.Day(last.On)}, {(last.Passed ? "within limits" : "outside limits")}, {(last.ValidUntil < tested ? "ran out" : "held until")} {ReportWords.Day(last.ValidUntil)}";
            yield return new Block.Paragraph(Rich.Led(ReportWords.Sentence(i.Name) + ".", $"{ReportWords.Sentence(i.Kind)}, reads {i.Property} in {i.Unit}; {verified}.{(i.Notes is null ? "" : " " + ReportWords.Ended(i.Notes))}"), TextKind.Note);
        }
    }
}
