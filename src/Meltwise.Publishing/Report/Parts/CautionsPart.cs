using Meltwise.Casework.Cautions;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Reminders for whoever repeats the work that the report describes.</summary>
internal static class CautionsPart
{
    public static ReportPart Of(ReportInput input)
    {
        Caution[] cautions =
        [
            .. input.Treatments.SelectMany(CautionTable.Of).Concat(CautionTable.OfProperty(input.Verdict.Rule.Property)).Concat(CautionTable.OfProperty(PropertyTable.Hardness.Name)).Distinct(),
        ];
        return new("For whoever repeats the work", [.. cautions.Select(c => new Block.Caution(c.Step, c.Text, c.WrittenIn)), new Block.Paragraph(CautionTable.Footer, TextKind.Note)]);
    }
}
