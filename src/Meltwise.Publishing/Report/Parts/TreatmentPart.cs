using Meltwise.Casework.Cautions;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Heat treatment by its set values, with the cautions of its steps.</summary>
internal static class TreatmentPart
{
    public static ReportPart Of(ReportInput input)
    {
        if (input.Treatments.Count == 0)
            return new("Heat treatment", [], WhenEmpty: "No record of the heat treatment was given.");
        List<Block> blocks = [];
        foreach (Treatment treatment in input.Treatments)
        {
            if (input.Treatments.Count > 1)
                blocks.Add(new Block.Heading(treatment.Name));
            blocks.Add(new Block.Table([new("step", 0.5), new("set", 3)], [.. treatment.Steps.Select((s, i) => (IReadOnlyList<Rich>)[(i + 1).ToString(System.Globalization.CultureInfo.InvariantCulture), ReportWords.Sentence(s.ToString())])]));
        }
        blocks.Add(new Block.Paragraph("Set values. Traces of the load thermocouples are not part of this record.", TextKind.Note));
        blocks.AddRange(input.Treatments.SelectMany(CautionTable.Of).Distinct().Select(c => new Block.Caution(c.Step, c.Text, c.WrittenIn)));
        blocks.Add(new Block.Paragraph(CautionTable.Footer, TextKind.Note));
        return new("Heat treatment", blocks);
    }
}
