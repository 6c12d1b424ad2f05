using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Structure: paired micrographs at equal magnification with scale bars, what was measured with its area, the outcome of each quantity.</summary>
internal static class StructurePart
{
    private const string Title = "Structure";

    public static ReportPart Of(ReportInput input)
    {
        if (input.Pictures is not { Sets.Count: > 0 } part)
            return new(Title, [], WhenEmpty: "No pictures of the structure belong to this enquiry.");
        List<Block> blocks = [new Block.TermList(Preparation(part))];
        blocks.Add(new Block.Micrographs([.. part.Sets.Select(s => Shown(s, s.Median, "median field"))]));
        if (part.Sets.All(s => s.Worst is not null))
            blocks.Add(new Block.Micrographs([.. part.Sets.Select(s => Shown(s, s.Worst!, "worst field"))]));
        blocks.Add(new Block.Paragraph(part.Sets.All(s => s.Median.MicrometresPerPixel is not null) ? "Median and worst field of each lot, all at one magnification; a scale bar stands under each." : "The scale of a picture is not known: no bar is drawn, and sizes are in pixels.", TextKind.Note));
        blocks.Add(Quantities(part));
        if (part.Notes.Count > 0)
            blocks.Add(new Block.Paragraph(Rich.Led("Notes.", string.Join(" ", part.Notes.Select(ReportWords.Ended))), TextKind.Note));
        return new(Title, blocks, part.MeasuredBlind ? "measured under code" : null);
    }

    private static List<Term> Preparation(PicturePart part) =>
    [
        new("Section", Rich.OrNotRecorded(part.Section)), new("Etch", Rich.OrNotRecorded(part.Etch)), new("Microscope", Rich.OrNotRecorded(part.Microscope)), new("Fields", Rich.OrNotRecorded(part.FieldRule)),
        new("Processing", Rich.OrNotRecorded(part.Processing)),
        new("Area", string.Join("; ", part.Sets.Select(s => $"{s.Heat}: {FigureNumbers.Count(s.Fields)} fields{(s.AreaMm2 is { } area ? $", {area.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture)} mm²" : ", area unknown")}"))),
    ];

    private static Micrograph Shown(PictureSet set, ReportPicture picture, string what) =>
        new(Rich.Led($"{set.Heat}, {(set.IsCandidate ? "candidate" : "reference")}, {what}.", ReportWords.Ended(ReportWords.Sentence(picture.Caption))), picture.File, picture.WidthPx, picture.MicrometresPerPixel);

    private static Block.Table Quantities(PicturePart part) => new(
        [new("quantity", 1.9), new("reference", 0.9, true), new("candidate", 0.9, true), new("unit", 0.8), new("ratio", 0.6, true), new("90 % range", 1.1, true), new("95 % range", 1.1, true), new("outcome", 1.6)],
        [.. part.Quantities.Select(q => (IReadOnlyList<Rich>)
        [
            ReportWords.Sentence(q.Judged.Name), Mean(q.Judged.Reference, q.Factor), Mean(q.Judged.Candidate, q.Factor), q.Unit, q.Judged.Ratio is { } ratio ? Rich.Of(new Run(FigureNumbers.Ratio(ratio), RunStyle.Strong)) : "–",
            Range(q.Judged.Narrow), Range(q.Judged.Wide), $"{OutcomeWords.Of(q.Judged.Outcome).Short}{(q.Judged.Reason is { } reason ? $": {reason}" : "")}",
        ])],
        $"Geometric means over the fields; ratio candidate over reference; margin {FigureNumbers.Ratio(part.MarginLow)} to {FigureNumbers.Ratio(part.MarginHigh)}. The 90 % range decides agreement, the 95 % range difference (Welch on logarithms). Each quantity is judged by itself, and for these mounts only.");

    private static string Mean(IReadOnlyList<double> fields, double factor) =>
        fields.Count == 0 ? "–" : fields.All(v => v > 0) ? FigureNumbers.Value(factor * Math.Exp(fields.Average(Math.Log))) : FigureNumbers.Value(factor * fields.Average());

    private static string Range((double Lower, double Upper)? range) => range is { } r ? $"{FigureNumbers.Ratio(r.Lower)} to {FigureNumbers.Ratio(r.Upper)}" : "–";
}
