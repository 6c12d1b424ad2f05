using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Heat treatment by its set values, and which coupons stood in which furnace load.</summary>
internal static class TreatmentPart
{
    private const string Title = "Heat treatment";

    public static ReportPart Of(ReportInput input)
    {
        if (input.Treatments.Count == 0)
            return new(Title, [], WhenEmpty: "No record of the heat treatment was given.");
        List<Block> blocks = [];
        foreach (Treatment treatment in input.Treatments)
        {
            if (input.Treatments.Count > 1)
                blocks.Add(new Block.Heading(treatment.Name));
            blocks.Add(treatment.Steps.Count == 0
                ? new Block.Paragraph($"{ReportWords.Sentence(treatment.Name)}: its steps are not recorded.")
                : new Block.Table([new("step", 0.5), new("set", 3)], [.. treatment.Steps.Select((s, i) => (IReadOnlyList<Rich>)[FigureNumbers.Count(i + 1), ReportWords.Sentence(s.ToString())])]));
            if (treatment.Notes is { } notes)
                blocks.Add(new Block.Paragraph(ReportWords.Ended(notes), TextKind.Note));
        }
        if (Loads(input) is { } loads)
            blocks.Add(loads);
        blocks.AddRange(Traces(input));
        return new(Title, blocks);
    }

    private static IEnumerable<Block> Traces(ReportInput input)
    {
        if (input.FurnaceTraces.Count == 0)
        {
            yield return new Block.Paragraph("Set values. Traces of the load thermocouples are not part of this record.", TextKind.Note);
            yield break;
        }
        foreach (FurnaceTrace trace in input.FurnaceTraces)
        {
            yield return new Block.Drawn(TraceFigure.Build(trace));
            string doubts = string.Join(" ", FurnaceTraceWords.Doubts(trace, TreatmentsOf(input, trace.Load)));
            if (doubts.Length > 0)
                yield return new Block.Paragraph(Rich.Led(trace.Name + ".", doubts));
        }
        string[] without = [.. input.Coupons.Select(c => c.Load).OfType<string>().Distinct().Except(input.FurnaceTraces.Select(t => t.Load)).Order(StringComparer.Ordinal)];
        yield return new Block.Paragraph($"Steps are set values; the traces are as the recorder wrote them. {FurnaceTraceWords.Definition}{(without.Length > 0 ? $" No trace of load {ReportWords.List(without)} is part of this record." : "")}", TextKind.Note);
    }

    private static IEnumerable<Treatment> TreatmentsOf(ReportInput input, string load)
    {
        HashSet<string> names = [.. input.Coupons.Where(c => c.Load == load).Select(c => c.Treatment).OfType<string>()];
        return input.Treatments.Where(t => names.Contains(t.Name));
    }

    private static Block.Table? Loads(ReportInput input)
    {
        string[] heats = [.. input.Enquiry.ReferenceHeats, .. input.Enquiry.CandidateHeats];
        IGrouping<string, Coupon>[] loads = [.. input.Coupons.Where(c => c.Load is not null).GroupBy(c => c.Load!).OrderBy(g => g.Key, StringComparer.Ordinal)];
        if (loads.Length == 0)
            return null;
        bool shared = loads.All(l => heats.All(h => l.Any(c => c.Heat == h)));
        return new([new("furnace load", 1.2), .. heats.Select(h => new Column(h, 1, true))], [.. loads.Select(l => (IReadOnlyList<Rich>)[l.Key, .. heats.Select(h => (Rich)FigureNumbers.Count(l.Count(c => c.Heat == h)))])],
            shared ? "Coupons in each load. Every load holds both lots." : "Coupons in each load. Not every load holds both lots.");
    }
}
