using System.Globalization;
using Meltwise.Casework.Cautions;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Labels;

/// <summary>Sets a bench sheet as a document: cutting list, loads, order of testing with room to write. Print it with <see cref="Report.ReportPdf"/> or <see cref="Report.ReportHtml"/>.</summary>
public static class BenchSheetDocument
{
    /// <summary>The document.</summary>
    public static ReportDocument Build(BenchSheet sheet)
    {
        List<Block> blocks = [new Block.Title([$"Enquiry {sheet.Enquiry}", .. sheet.Others.Count > 0 ? [$"to be read on every coupon: {string.Join(", ", sheet.Others.Select(o => o.Property).Prepend(sheet.Property))}"] : Array.Empty<string>(), .. sheet.Condition.Length > 0 ? [sheet.Condition] : Array.Empty<string>(), .. sheet.Allocation is { } how ? [how] : Array.Empty<string>(), .. sheet.IsDemonstration ? ["demonstration: all names and numbers are invented"] : Array.Empty<string>()], "Bench sheet")];
        int part = 0;
        if (sheet.Cutting.Count > 0)
        {
            blocks.Add(new Block.Part(++part, "Cutting list"));
            blocks.Add(new Block.Table([new("heat"), new("orientation"), new("geometry", 1.6), new("pieces", 0.7, true), new("note", 1.6)], [.. sheet.Cutting.Select(c => (IReadOnlyList<Rich>)[c.Heat, Rich.OrUnknown(c.Orientation), Rich.OrUnknown(c.Geometry), c.Pieces.ToString(CultureInfo.InvariantCulture), c.Note ?? ""])]));
        }
        if (sheet.Loads.Count > 0)
        {
            blocks.Add(new Block.Part(++part, "Furnace loads"));
            foreach (IGrouping<string, LoadPlace> load in sheet.Loads.GroupBy(l => l.Load).OrderBy(g => g.Key, StringComparer.Ordinal))
                blocks.Add(new Block.Paragraph(Rich.Led($"Load {load.Key}.", string.Join(" · ", load.OrderBy(l => l.Position).Select(l => $"{l.Position} {l.Code}")))));
        }
        if (sheet.Levels.Count > 0)
        {
            blocks.Add(new Block.Part(++part, "Temper levels"));
            foreach ((string level, IReadOnlyList<string> codes) in sheet.Levels)
                blocks.Add(new Block.Paragraph(Rich.Led($"{level}.", string.Join(" · ", codes))));
        }
        if (sheet.Treatments.Count > 0)
            blocks.Add(new Block.Part(++part, "Treatment"));
        blocks.AddRange(sheet.TreatmentCautions.Select(c => new Block.Caution(c.Step, c.Text, c.WrittenIn)));
        foreach (TreatmentOfLoads treatment in sheet.Treatments)
        {
            blocks.Add(new Block.Heading(treatment.Loads));
            blocks.Add(new Block.Table([new("step", 2.4), new("reached", 0.9), new("from", 0.7), new("to", 0.7), new("by", 0.7)], [.. treatment.Steps.Select(t => (IReadOnlyList<Rich>)[t, "", "", "", ""])], ToWriteIn: true));
        }
        if (sheet.HardnessOrder.Count > 0)
        {
            blocks.Add(new Block.Part(++part, "Order of hardness"));
            blocks.Add(new Block.Paragraph(string.Join(" · ", sheet.HardnessOrder.Select((code, i) => $"{(i + 1).ToString(CultureInfo.InvariantCulture)} {code}"))));
            blocks.Add(new Block.Paragraph("Read all of them in one session on one machine, a block or reference coupon at start, middle and end.", TextKind.Note));
        }
        blocks.Add(new Block.NewPage());
        blocks.Add(new Block.Part(++part, "Order of testing"));
        (string Property, string Unit)[] read = [.. sheet.Others.Prepend((sheet.Property, sheet.Unit)).Where(p => p.Item1 != PropertyTable.Hardness.Name)];
        double room = read.Length > 2 ? 0.6 : 0.8;
        blocks.Add(new Block.Table([new("order", 0.6, true), new("load", 0.8), new("code", 0.9), new("HRC 1", room), new("HRC 2", room), new("HRC 3", room), .. read.Select(p => new Column($"{p.Property}, {p.Unit}", 1.3)), new("remark", read.Length > 2 ? 1.2 : 1.8)],
            [.. sheet.Tests.OrderBy(t => t.Order).Select(t => (IReadOnlyList<Rich>)[t.Order.ToString(CultureInfo.InvariantCulture), t.Load ?? "", Rich.Of(new Run(t.Code, RunStyle.Strong)), "", "", "", .. read.Select(_ => (Rich)""), ""])],
            "Write what the instrument shows, with all its digits. A slip is struck through once and stays readable.", ToWriteIn: true));
        blocks.AddRange(sheet.Cautions.Select(c => new Block.Caution(c.Step, c.Text, c.WrittenIn)));
        if (sheet.Cautions.Count + sheet.TreatmentCautions.Count > 0)
            blocks.Add(new Block.Paragraph(CautionTable.Footer, TextKind.Note));
        return new() { Title = $"Bench sheet {sheet.Enquiry}", Foot = $"Meltwise · {sheet.Enquiry} · bench sheet{(sheet.IsDemonstration ? " · demonstration, all invented" : "")}", Blocks = blocks };
    }
}
