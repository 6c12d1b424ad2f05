using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Custody of the material, and what is retained of it until when.</summary>
internal static class CustodyPart
{
    public static ReportPart Of(ReportInput input)
    {
        if (input.Custody.Count == 0 && input.Heats.All(h => h.Received is null))
            return new("Custody and retained material", [], WhenEmpty: "Nothing was recorded of how the material came and what is retained of it.");
        List<IReadOnlyList<Rich>> rows = [.. input.Heats.Select(h => Row(h, input.Custody.FirstOrDefault(c => c.Heat == h.Name)))];
        List<Block> blocks = [new Block.Table([new("heat", 0.7), new("received", 1.1), new("from", 1.1), new("by", 1), new("retained", 2.2), new("until", 1.1)], rows)];
        blocks.AddRange(input.Custody.Where(c => c.Notes is not null).Select(c => new Block.Paragraph(Rich.Led(c.Heat + ".", ReportWords.Ended(c.Notes!)), TextKind.Note)));
        return new("Custody and retained material", blocks);
    }

    private static IReadOnlyList<Rich> Row(Heat heat, Custody? custody) =>
    [
        Rich.Of(new Run(heat.Name, RunStyle.Strong)), heat.Received is { } day ? ReportWords.Day(day) : Rich.NotRecorded, Rich.OrNotRecorded(custody?.ReceivedFrom), Rich.OrNotRecorded(custody?.ReceivedBy),
        Rich.OrNotRecorded(custody?.Retained), custody?.RetainedUntil is { } until ? ReportWords.Day(until) : Rich.NotRecorded,
    ];
}
