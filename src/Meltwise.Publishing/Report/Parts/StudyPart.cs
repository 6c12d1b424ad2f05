using Meltwise.Casework.Asking;
using Meltwise.Casework.Studying;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>A treatment study of the bench: groups, simultaneous comparisons, equivalence to a control.</summary>
internal static class StudyPart
{
    public static ReportPart Of(ReportInput input)
    {
        if (input.Study is not { Result: var study } stored)
            return new("Treatment study", []);
        bool log = study.Scale == "log";
        List<Block> blocks =
        [
            new Block.Paragraph(Question(stored)),
            new Block.Table([new(ReportWords.Sentence(string.Join(" and ", study.By)), 2.4), new("coupons", 0.7, true), new("heats", 0.6, true), new($"{(log ? "geometric mean" : "mean")}, {study.Unit}", 1, true)],
                [.. study.Groups.Select(g => (IReadOnlyList<Rich>)[Rich.Of(g.Name == study.Control ? [new Run(g.Name, RunStyle.Strong), new Run(", control")] : [new Run(g.Name)]), FigureNumbers.Count(g.N), FigureNumbers.Count(g.Heats), FigureNumbers.Value(g.Mean)])]),
        ];
        if (StudyFigure.Build(study, Limits(stored.Choice)) is { } figure)
            blocks.Add(new Block.Drawn(figure));
        blocks.Add(new Block.Items([.. study.Comparisons.Select(c => (Rich)$"{ReportWords.Ended(c.Text)}")]));
        if (study.ChangePerLevel is { } change)
            blocks.Add(new Block.Paragraph(OverLevels(study, change, log), TextKind.Note));
        if (study.NoChangeBeyond is { } level)
            blocks.Add(new Block.Paragraph($"From {level} on all pairs agree within the margin.", TextKind.Note));
        blocks.Add(new Block.Paragraph(Rich.Led("Method.", $"{ReportWords.Ended(ReportWords.Sentence(study.Method))} {string.Join(" ", study.Notes.Select(ReportWords.Ended))}{string.Concat(study.LeftOut.Select(l => $" {FigureNumbers.Count(l.Value)} coupons left out: {l.Key}."))}"), TextKind.Note));
        blocks.Add(new Block.Paragraph("The study compares groups of the whole bench. It is not part of the locked rule and does not change the verdict.", TextKind.Note));
        return new("Treatment study", blocks, $"computed {ReportWords.Day(DateOnly.FromDateTime(stored.AtUtc))}");
    }

    /// <summary>The linear change over the levels: per unit of their values where they were typed, and from the first level to the last.</summary>
    private static Rich OverLevels(Study study, double change, bool log)
    {
        string p = $"p = {AxisTicks.Write(study.ChangePerLevelP ?? double.NaN, 3)}";
        string over = study.ChangeOverLevels is { } all && study.Order is { } order
            ? $" From {order[0]} to {order[^1]} {(log ? $"× {FigureNumbers.Ratio(all.Estimate)} ({FigureNumbers.Ratio(all.Lower)} to {FigureNumbers.Ratio(all.Upper)}" : $"{FigureNumbers.Signed(all.Estimate)} {study.Unit} ({FigureNumbers.Signed(all.Lower)} to {FigureNumbers.Signed(all.Upper)}")}, 95 %)." : "";
        return study.LevelValues is { } values
            ? Rich.Led("Over the levels.", $"Values {new LevelScale(values, study.LevelUnit)}; linear change per {study.LevelUnit ?? "unit"} {(log ? $"× {AxisTicks.Write(change, 5)}" : $"{AxisTicks.Write(change, 5)} {study.Unit}")}, {p}.{over}")
            : Rich.Led("Per level.", $"{(log ? $"× {FigureNumbers.Ratio(change)}" : $"{FigureNumbers.Signed(change)} {study.Unit}")} from one level to the next, equally spaced, {p}.{over}");
    }

    private static string Question(StoredStudy stored)
    {
        StudyChoice c = stored.Choice;
        string where = c.Where.Count == 0 ? "" : $" with {string.Join(", ", c.Where.Select(w => $"{w.Key} {w.Value}"))}";
        return $"{ReportWords.Sentence(c.Property)} of {FigureNumbers.Count(stored.Coupons)} coupons of the bench{where}, grouped by {string.Join(" and ", c.By)}{(c.Control is { } control ? $" and compared with {control}" : ", all pairs compared")}; margin {c.Margin}.";
    }

    private static Limits? Limits(StudyChoice choice) =>
        PropertyTable.Find(choice.Property) is { } property && MarginText.TryRead(choice.Margin, property, out Margin? margin, out _)
            ? margin switch { Margin.Ratio r => new(r.Low, r.High), Margin.Absolute a => new(-a.PlusMinus, a.PlusMinus), _ => null }
            : null;
}
