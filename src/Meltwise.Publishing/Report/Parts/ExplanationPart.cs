using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Interpretation, kept apart from what was measured.</summary>
internal static class ExplanationPart
{
    public static ReportPart Of(ReportInput input) => new("Explanation", [.. input.Explanation.Select(p => new Block.Paragraph(p))], "interpretation", WhenEmpty: "No explanation is offered: nothing is said about causes.");
}
