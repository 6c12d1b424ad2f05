using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Packs;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>What it takes to get the same verdict again.</summary>
internal static class ReproductionPart
{
    public static ReportPart Of(ReportInput input)
    {
        Reproduction r = input.Verdict.Reproduction;
        List<Term> terms =
        [
            new("Program", $"Meltwise {r.Version}"),
            new("Data", r.DataDigest),
            new("History", r.HistoryDigest ?? "none used"),
            new("Rule", r.RuleDigest ?? "not locked"),
            new("Package", ReportWords.Digest(PackId.Of(input.Verdict))),
            new("Seed", r.Seed is { } seed ? seed.ToString(System.Globalization.CultureInfo.InvariantCulture) : "nothing random"),
        ];
        return new("Reproduction",
        [
            new Block.TermList(terms),
            new Block.Paragraph("The same program with the same data, rule and seed gives this verdict again, number for number. Digests are SHA-256. The data package of that name holds the data, a codebook, the records and the figures. This report relates only to the items tested.", TextKind.Note),
        ]);
    }
}
