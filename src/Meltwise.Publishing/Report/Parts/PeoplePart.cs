using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Who did and paid what, what is retained, who answers for it.</summary>
internal static class PeoplePart
{
    public static ReportPart Of(ReportInput input, bool anonymous)
    {
        List<Term> terms = [];
        if (!anonymous)
            terms.Add(new("Laboratory", Rich.OrUnknown(input.Laboratory)));
        string[] outside = [.. input.Chemistry.Select(c => c.Laboratory).OfType<string>().Distinct(StringComparer.Ordinal)];
        terms.Add(new("Results from elsewhere", outside.Length == 0 ? "none recorded" : $"chemistry by {ReportWords.List(outside)}"));
        terms.Add(new("Paid by", input.Enquiry.PaidBy is { } paid ? paid : Rich.Of(new Run("not stated", RunStyle.Italic))));
        terms.Add(new("Retained", input.Retained is { } kept ? kept : Rich.Of(new Run("not recorded", RunStyle.Italic))));
        if (!anonymous)
            terms.Add(new("Authorised by", "                                                                                "));
        return new("People, payment, custody", [new Block.TermList(terms)]);
    }
}
