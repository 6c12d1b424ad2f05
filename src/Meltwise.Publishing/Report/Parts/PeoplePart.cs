using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Who did what, what came from elsewhere, who paid, whose interests bear on the result, who answers for the report.</summary>
internal static class PeoplePart
{
    public static ReportPart Of(ReportInput input, bool anonymous)
    {
        Enquiry e = input.Enquiry;
        List<Block> blocks = [];
        if (e.Work.Count > 0)
            blocks.Add(new Block.Table([new("part of the work", 1.6), new("done by", 1.6), new("where", 1)], [.. e.Work.Select(w => (IReadOnlyList<Rich>)[w.Task, w.By, w.IsOutside ? Rich.Of(new Run("outside", RunStyle.Strong)) : "own laboratory"])]));
        List<Term> terms = [];
        if (!anonymous)
            terms.Add(new("Laboratory", Rich.OrUnknown(input.Laboratory)));
        if (e.Work.Count == 0)
            terms.Add(new("Who did what", Rich.NotRecorded));
        terms.Add(new("From elsewhere", Outside(input)));
        terms.Add(new("Paid by", Rich.OrNotRecorded(e.PaidBy)));
        terms.Add(new("Interests", Rich.OrNotRecorded(e.ConflictsOfInterest)));
        if (!anonymous)
            terms.Add(new("Authorised by", Authoriser(e)));
        blocks.Add(new Block.TermList(terms));
        return new("People, payment, interests", blocks);
    }

    private static Rich Authoriser(Enquiry e) => (e.Authoriser, e.StagesUtc.TryGetValue(EnquiryStage.Reported, out DateTime at)) switch
    {
        ({ } name, true) => $"{name}, {ReportWords.Stamp(at)}",
        ({ } name, false) => $"{name}; not issued yet",
        _ => Rich.NotRecorded,
    };

    private static Rich Outside(ReportInput input)
    {
        string[] laboratories = [.. input.Chemistry.Select(c => c.Laboratory).OfType<string>().Where(l => !string.Equals(l, "own", StringComparison.OrdinalIgnoreCase)).Distinct(StringComparer.Ordinal)];
        string[] said =
        [
            .. laboratories.Length == 0 ? Array.Empty<string>() : [$"chemistry by {ReportWords.List(laboratories)}"],
            .. input.Enquiry.Work.Where(w => w.IsOutside).Select(w => $"{w.Task} by {w.By}"),
        ];
        return said.Length == 0 ? "no result is recorded as from elsewhere" : string.Join("; ", said);
    }
}
