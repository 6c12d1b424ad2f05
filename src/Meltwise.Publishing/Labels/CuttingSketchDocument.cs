using System.Globalization;
using Meltwise.Casework.Cautions;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Labels;

/// <summary>A piece to be cut.</summary>
/// <param name="Heat">Heat it is cut from.</param>
/// <param name="Number">Number of the piece within its heat.</param>
/// <param name="Mark">What is engraved at both ends: blind code, or name.</param>
/// <param name="Shape">Orientation and geometry.</param>
/// <param name="Position">Position in the bar when it is planned or known; otherwise it is written in.</param>
public sealed record CuttingPiece(string Heat, int Number, string Mark, string? Shape, string? Position);

/// <summary>Sets the cutting sketch as a list: every blank with its mark and its place in the bar. It joins heats with codes, so it stays with whoever cuts and engraves.</summary>
public static class CuttingSketchDocument
{
    /// <summary>The document.</summary>
    /// <param name="name">Enquiry or plan.</param>
    /// <param name="properties">Properties to be read on the coupons; named where there are several.</param>
    /// <param name="pieces">Pieces, in any order.</param>
    /// <param name="isDemonstration">True for invented data.</param>
    public static ReportDocument Build(string name, IReadOnlyList<string> properties, IReadOnlyList<CuttingPiece> pieces, bool isDemonstration)
    {
        List<Block> blocks =
        [
            new Block.Title([$"Enquiry {name}", .. properties.Count > 1 ? [$"coupons for {string.Join(", ", properties)}"] : Array.Empty<string>(), .. isDemonstration ? ["demonstration: all names and numbers are invented"] : Array.Empty<string>()], "Cutting sketch"),
            new Block.Paragraph("This sheet joins heats with codes. It stays with whoever cuts and engraves until the readings are locked.", TextKind.Warning),
            new Block.Paragraph("Number the blanks from the end named below, mark both ends of each before it leaves the saw, and keep the remnant with its stamp. Lengths and kerfs add up to the bar: that is the check against a mix-up.", TextKind.Note),
        ];
        int part = 0;
        foreach (IGrouping<string, CuttingPiece> heat in pieces.GroupBy(p => p.Heat).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            blocks.Add(new Block.Part(++part, $"Heat {heat.Key}", $"{heat.Count()} pieces"));
            blocks.Add(new Block.Table([new("piece", 0.6, true), new("mark at both ends", 1.2), new("orientation, size", 2), new("position in the bar", 2.2), new("cut", 0.6)],
                [.. heat.OrderBy(p => p.Number).Select(p => (IReadOnlyList<Rich>)[p.Number.ToString(CultureInfo.InvariantCulture), Rich.Of(new Run(p.Mark, RunStyle.Strong)), p.Shape ?? "", p.Position ?? "", ""])],
                "Counted from the end: __________   bar: ________ mm   kerf: ____ mm   remnant: ________ mm", ToWriteIn: true));
        }
        blocks.AddRange(CautionTable.Cutting.Select(c => new Block.Caution(c.Step, c.Text, c.WrittenIn)));
        blocks.Add(new Block.Paragraph(CautionTable.Footer, TextKind.Note));
        return new() { Title = $"Cutting sketch {name}", Foot = $"Meltwise · {name} · cutting sketch, tells the key{(isDemonstration ? " · demonstration, all invented" : "")}", Blocks = blocks };
    }
}
