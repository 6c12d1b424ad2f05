using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report.Parts;

namespace Meltwise.Publishing.Report;

/// <summary>Builds a report in the order a reader needs: answer, what was compared, rule, design, treatment, results, hardness, chemistry, explanation, history, what was left out,
/// limits, method, custody, people, reproduction. A part without data is not printed, and the part on limits says so.</summary>
/// <remarks>Content after ISO/IEC 17025:2017, 7.8.2 and 7.8.6 to 7.8.8 (from memory): what a report of tests and of a statement of conformity holds.</remarks>
public static class ReportBuilder
{
    /// <summary>The document.</summary>
    /// <param name="input">Enquiry, verdict, records.</param>
    /// <param name="anonymous">True for the public version: no source, heat, client, laboratory or person is named, in text, figures or the file's own data.</param>
    public static ReportDocument Build(ReportInput input, bool anonymous = false)
    {
        IReadOnlyList<string> hidden = [];
        if (anonymous)
        {
            (input, PrivateNames names) = PublicVersion.Of(input);
            hidden = names.All;
        }
        List<string> missing = [];
        List<Block> blocks = [.. Opening.Of(input, anonymous)];
        int number = 0;
        foreach (ReportPart part in Contents(input, anonymous, missing))
        {
            if (part.Blocks.Count == 0)
            {
                if (part.WhenEmpty is { } empty)
                    missing.Add(empty);
                continue;
            }
            if (part.NewPage)
                blocks.Add(new Block.NewPage());
            blocks.Add(new Block.Part(++number, part.Title, part.State, part.Locked));
            blocks.AddRange(part.Blocks);
        }
        string name = anonymous ? "public version" : input.Enquiry.Name;
        return new()
        {
            Title = anonymous ? $"Report, {name}, {input.VersionLabel}" : $"Report {name}, {input.VersionLabel}",
            Foot = $"Meltwise · {name} · {input.VersionLabel}{(input.IsDemonstration ? " · demonstration, all names and numbers invented" : "")} · relates only to the items tested",
            Blocks = blocks,
            PrivateNames = hidden,
        };
    }

    private static IEnumerable<ReportPart> Contents(ReportInput input, bool anonymous, List<string> missing)
    {
        yield return AnswerPart.Of(input);
        yield return ComparedPart.Of(input);
        yield return RulePart.Of(input);
        yield return DesignPart.Of(input);
        yield return TreatmentPart.Of(input);
        yield return ResultsPart.Of(input);
        yield return HardnessPart.Of(input);
        yield return ChemistryPart.Of(input);
        yield return OriginsPart.Of(input);
        yield return ExplanationPart.Of(input);
        yield return HistoryPart.Of(input);
        yield return LeftOutPart.Of(input);
        yield return LimitsPart.Of(input, missing);
        yield return MethodPart.Of(input);
        yield return CustodyPart.Of(input);
        yield return PeoplePart.Of(input, anonymous);
        yield return ReproductionPart.Of(input);
    }
}
