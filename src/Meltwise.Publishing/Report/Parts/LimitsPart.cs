using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>What cannot be said.</summary>
internal static class LimitsPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        List<Rich> lines = ["This report relates only to the items tested. It certifies no part as safe."];
        lines.AddRange(v.Lots.Where(l => l.Heat.Count == 1 && l.Source is not null).Take(1).Select(_ => (Rich)"A verdict on these lots says nothing about later heats of a source, unless question C is answered."));
        foreach (EstimandResult refused in new EstimandResult?[] { v.EqualHardness, v.Sources }.OfType<EstimandResult>().Where(r => r.Refused is not null))
            lines.Add($"{(refused is EqualHardness ? "Question B, at equal hardness" : "Question C, the two sources")}: no answer, because {Figures.OutcomeSigns.Words(refused.Refused!.Value)}.{(refused.Missing is null ? "" : " " + ReportWords.Ended(ReportWords.Sentence(refused.Missing)))}");
        if (v.Stratum.NotRecorded.Count > 0)
            lines.Add($"Not recorded in the tables, so nothing is known of it: {ReportWords.List(v.Stratum.NotRecorded)}.");
        string[] unknown = [.. input.Heats.Where(h => h.Consolidation is null).Select(h => h.Name)];
        if (unknown.Length > 0)
            lines.Add($"The consolidation history of {ReportWords.List(unknown)} is unknown.");
        int examined = input.Origins.Count(o => o.Kind != OriginKind.NoneSeen);
        if (examined > 0)
            lines.Add($"An origin seen on a fracture is an observation; that it lowered the reading is interpretation ({examined} of {input.Coupons.Count} coupons show one).");
        return new("What cannot be said", [new Block.Items(lines)]);
    }
}
