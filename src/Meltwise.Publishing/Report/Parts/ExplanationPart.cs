using Meltwise.Casework.Explaining;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Interpretation, kept apart from what was measured, with its strength.</summary>
internal static class ExplanationPart
{
    public static ReportPart Of(ReportInput input)
    {
        List<Block> blocks = [.. input.Explanation.Select(p => new Block.Paragraph(p))];
        if (input.Computed is { } document)
            blocks.AddRange(Computed(document));
        string strength = input.Computed?.Strength switch { "measured" => "interpretation, measured", "consistent" => "interpretation, consistent with the data", "speculative" => "interpretation, speculative", _ => "interpretation" };
        return new("Explanation", blocks, strength, WhenEmpty: "No explanation is offered: nothing is said about causes.");
    }

    private static IEnumerable<Block> Computed(ExplanationDocument document)
    {
        yield return new Block.Paragraph(document.Text);
        if (document.Contributions.Count > 0)
            yield return new Block.Drawn(ContributionFigure.Build(document));
        (string Name, ExplainedInterval Value, int Decimals, double Factor)[] rows =
        [
            ("carbon in the austenite, wt%", document.Difference.CarbonInAustenite, 3, 1), ("chromium in the austenite, wt%", document.Difference.ChromiumInAustenite, 2, 1),
            ("undissolved carbides, vol%", document.Difference.CarbideVolumeFraction, 2, 100), ("martensite start, °C", document.Difference.MartensiteStartC, 0, 1),
            ("retained austenite, vol%", document.Difference.RetainedAustenite, 1, 100), ("hardness, HRC", document.Difference.HardnessHrc, 2, 1),
        ];
        yield return new Block.Table([new("calculated", 2), new($"{document.Candidate.Heat} − {document.Reference.Heat}", 1, true), new($"{FigureNumbers.Level(rows[0].Value.Level)} range", 1.3, true)],
            [.. rows.Select(r => (IReadOnlyList<Rich>)[r.Name, Rich.Of(new Run(AxisTicks.Write(r.Factor * r.Value.Estimate, r.Decimals), RunStyle.Strong)), $"{AxisTicks.Write(r.Factor * r.Value.Lower, r.Decimals)} to {AxisTicks.Write(r.Factor * r.Value.Upper, r.Decimals)}"])],
            $"Treatment: {document.Treatment}. Measured chemistry, carried with its uncertainty; {FigureNumbers.Count(document.Draws)} draws, seed {document.Seed}.");
        if (document.Notes.Count > 0)
        {
            yield return new Block.Heading("What the explanation rests on");
            yield return new Block.Items([.. NotesOfBoth.Of(document).Select(n => (Rich)ReportWords.Ended(n))]);
        }

        if (document.Sources.Count > 0)
            yield return new Block.Paragraph(Rich.Led("Models and data.", string.Join("; ", document.Sources) + "."), TextKind.Note);
    }
}
