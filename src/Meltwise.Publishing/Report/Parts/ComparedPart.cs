using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>What was compared: heats, sources, routes. What nobody knows is printed as unknown.</summary>
internal static class ComparedPart
{
    public static ReportPart Of(ReportInput input)
    {
        if (input.Heats.Count == 0)
            return new("What was compared", [], WhenEmpty: "No record of the heats (source, route, product) was given.");
        List<IReadOnlyList<Rich>> rows = [.. input.Heats.Select(h => (IReadOnlyList<Rich>)[Rich.Of(new Run(h.Name, RunStyle.Strong)), Role(input.Enquiry, h), Rich.OrUnknown(h.Source), Rich.OrUnknown(h.Grade), Rich.OrUnknown(h.Route), Rich.OrUnknown(h.Product)])];
        List<Block> blocks = [new Block.Table([new("heat", 0.8), new("role", 0.9), new("source", 1.1), new("grade", 1.4), new("route", 0.9), new("product", 1.4)], rows)];
        foreach (Heat heat in input.Heats)
            blocks.Add(new Block.Paragraph(Rich.Of([new Run(heat.Name + ".", RunStyle.Strong), new Run(" Consolidation: "), .. Rich.OrUnknown(heat.Consolidation).Runs, new Run(".")]), TextKind.Note));
        return new("What was compared", blocks);
    }

    private static string Role(Enquiry e, Heat heat) => e.ReferenceHeats.Contains(heat.Name) ? "reference" : e.CandidateHeats.Contains(heat.Name) ? "candidate" : "–";
}
