using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Title and first lines.</summary>
internal static class Opening
{
    public static IEnumerable<Block> Of(ReportInput input, bool anonymous)
    {
        Enquiry e = input.Enquiry;
        string made = $"{(anonymous ? $"Report, {input.VersionLabel}: the version that names nobody" : $"Enquiry {e.Name}, report, {input.VersionLabel}")} · made {ReportWords.Stamp(input.AtUtc)}";
        string forWhom = string.Join(" · ", new[] { e.Client is { } client ? $"for {client}" : null, input.IsDemonstration ? "demonstration: all names and numbers are invented" : null }.OfType<string>());
        List<string> above = forWhom.Length > 0 ? [made, forWhom] : [made];
        yield return new Block.Title(above, e.Title);
        yield return new Block.Paragraph(Lead(input), TextKind.Lead);
        if (input.Verdict.Finding.Warning is { } warning)
            yield return new Block.Paragraph(warning, TextKind.Warning);
    }

    private static string Lead(ReportInput input)
    {
        Enquiry e = input.Enquiry;
        string reference = ReportWords.List(e.ReferenceHeats), candidate = ReportWords.List(e.CandidateHeats);
        string grade = input.Heats.Select(h => h.Grade).OfType<string>().Distinct().ToArray() is [var one] ? $", both {one}" : "";
        return $"{candidate} (candidate) against {reference} (reference){grade}, judged by {ReportWords.List([.. input.Verdict.Joint?.Primaries.Select(p => p.Property) ?? [input.Verdict.Rule.Property]])} {input.Verdict.Rule.Standing switch { "locked" => "under a rule agreed before testing", "amended" => "under a rule that was changed after it was locked", _ => "under a rule that was not locked before testing" }}.";
    }
}
