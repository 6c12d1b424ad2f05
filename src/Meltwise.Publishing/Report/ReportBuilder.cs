using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report.Parts;

namespace Meltwise.Publishing.Report;

/// <summary>Builds a report in the order a reader needs: answer, what was compared, rule, design, treatment, results, hardness, structure, chemistry, fracture origins, explanation, history,
/// what was left out, limits, method, custody, standards, people, reproduction. A part without data says in one line that nothing was recorded.</summary>
/// <remarks>Content after ISO/IEC 17025:2017, 7.8.2 and 7.8.6 to 7.8.8 (from memory): what a report of tests and of a statement of conformity holds.</remarks>
public static class ReportBuilder
{
    /// <summary>The document.</summary>
    /// <param name="input">Enquiry, verdict, records.</param>
    /// <param name="anonymous">True for the public version: no source, heat, client, laboratory or person is named, in text, figures or the file's own data.</param>
    public static ReportDocument Build(ReportInput input, bool anonymous = false)
    {
        PrivateNames? hidden = null;
        if (anonymous)
            (input, hidden) = PublicVersion.Of(input);
        List<Block> blocks = [.. Opening.Of(input, anonymous)];
        int number = 0;
        foreach (ReportPart part in Contents(input, anonymous).Where(p => p.Blocks.Count > 0 || p.WhenEmpty is not null))
        {
            if (part.NewPage)
                blocks.Add(new Block.NewPage());
            blocks.Add(new Block.Part(++number, part.Title, part.Blocks.Count == 0 ? "nothing recorded" : part.State, part.Locked));
            blocks.AddRange(part.Blocks.Count == 0 ? [new Block.Paragraph(part.WhenEmpty!, TextKind.Note)] : part.Blocks);
        }
        string name = anonymous ? "public version" : input.Enquiry.Name;
        return new()
        {
            Title = anonymous ? $"Report, {name}, {input.VersionLabel}" : $"Report {name}, {input.VersionLabel}",
            Foot = $"Meltwise · {name} · {input.VersionLabel}{(input.IsDemonstration ? " · demonstration, all names and numbers invented" : "")} · relates only to the items tested",
            Blocks = blocks,
            PrivateNames = hidden?.All ?? [],
            PublicLabels = hidden?.Labels ?? [],
        };
    }

    private static IEnumerable<ReportPart> Contents(ReportInput input, bool anonymous)
    {
        yield return AnswerPart.Of(input);
        yield return ComparedPart.Of(input);
        yield return RulePart.Of(input);
        yield return DesignPart.Of(input);
        yield return TreatmentPart.Of(input);
        yield return ResultsPart.Of(input);
        yield return HardnessPart.Of(input);
        yield return StructurePart.Of(input);
        yield return ChemistryPart.Of(input);
        yield return OriginsPart.Of(input);
        yield return ExplanationPart.Of(input);
        yield return HistoryPart.Of(input);
        yield return StudyPart.Of(input);
        yield return LeftOutPart.Of(input);
        yield return LimitsPart.Of(input);
        yield return MethodPart.Of(input);
        yield return CustodyPart.Of(input);
        yield return StandardsPart.Of(input);
        yield return PeoplePart.Of(input, anonymous);
        yield return ReproductionPart.Of(input);
        yield return CautionsPart.Of(input);
    }
}
