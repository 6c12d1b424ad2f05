using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>The answer: outcome, sentence, one figure, what may and may not be claimed.</summary>
internal static class AnswerPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        OutcomeWords words = OutcomeWords.Of(v);
        List<Block> blocks =
        [
            new Block.OutcomeHead(Under(v), words.Word, words.Qualifier),
            new Block.Paragraph(v.Finding.Sentence.Length > 0 ? v.Finding.Sentence : v.Finding.Text, TextKind.Sentence),
            new Block.Drawn(VerdictFigure.Build(v), false),
        ];
        if (PropertyLine.Of(v) is { Count: > 0 } properties)
        {
            blocks.Add(Properties(properties));
            blocks.AddRange(v.OtherProperties!.Where(o => o.Role == "secondary").Select(o => new Block.Paragraph(o.Sentence, TextKind.Note)));
        }
        if (v.Finding.MayClaim.Count + v.Finding.MayNotClaim.Count > 0)
            blocks.Add(new Block.Claims(v.Finding.MayClaim, v.Finding.MayNotClaim));
        if (Settles(v) is { } settles)
            blocks.Add(new Block.Paragraph(Rich.Led("What would settle it.", settles), TextKind.Note));
        blocks.Add(new Block.Paragraph(Rich.Led("Applies to", $"the coupons of {ReportWords.List([.. v.Lots.SelectMany(l => l.Heat)])} that were tested, {(v.Joint is null ? "this property" : "these properties")} and this condition. It relates only to the items tested."), TextKind.Note));
        return new("Answer", blocks, v.Reproduction.RuleDigest is { } digest ? $"under rule {ReportWords.Digest(digest)}" : "the rule was not locked");
    }

    private static Block.Table Properties(IReadOnlyList<PropertyLine> lines) => new(
        [new("property", 1.25), new("role", 0.85), new("outcome", 1.5), new("estimate", 0.85, true), new("range", 1.4, true), new("margin", 1.1, true), new("p", 0.65, true)],
        [.. lines.Select(l => (IReadOnlyList<Rich>)[Rich.Of(new Run(ReportWords.Sentence(l.Property), RunStyle.Strong)), l.Role, l.Outcome, l.Estimate, l.Range, l.Margin, l.P])],
        PropertyLine.Caption);

    private static string Under(Verdict v)
    {
        string question = v.Rule.Estimand switch { "equal-hardness" => "Question B, at equal hardness", "sources" => "Question C, the two sources in general", _ => "Question A, as tested" };
        return v.Lots.Count == 0 ? question : $"{question}: {string.Join(" and ", v.Lots.Select(l => $"{l.N} coupons of {ReportWords.List(l.Heat)}"))}";
    }

    private static string? Settles(Verdict v)
    {
        if (v.Finding.CouponsToSettle is not { } n)
            return null;
        string?[] ways =
        [
            n.IfRatioIsOne is { } one ? $"{one} coupons a lot in all, if there is truly no difference" : null,
            n.IfRatioIsAsSeen is { } seen ? $"{seen} coupons a lot in all, if the difference is truly the one seen" : null,
        ];
        string[] said = [.. ways.OfType<string>()];
        return said.Length == 0 ? null : ReportWords.Sentence(string.Join("; ", said)) + " (chance 0.8 of showing agreement).";
    }
}
