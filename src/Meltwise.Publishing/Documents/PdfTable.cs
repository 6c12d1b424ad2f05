using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;
using PdfSharp.UniversalAccessibility;

namespace Meltwise.Publishing.Documents;

/// <summary>Sets a table: rule under the head and at the end, hairlines between rows, no uprights; numbers stand with their points under each other; rows are never cut and the head is repeated on a new page.</summary>
internal static class PdfTable
{
    private const double W = PdfFlow.Width, Gap = 9;
    private static readonly TypeStyle s_head = new(Face.Label, 650, false, 8.6, Ink.Second);
    private static readonly TypeStyle s_cell = new(Face.Text, 400, false, 9.5, Ink.Main);

    /// <summary>The slabs of a table.</summary>
    public static IEnumerable<Slab> Of(Block.Table table)
    {
        double shares = table.Columns.Sum(c => c.Share);
        double[] widths = [.. table.Columns.Select(c => W * c.Share / shares)];
        PdfElement whole = new(PdfBlockLevelElementTag.Table);
        Slab head = Row([.. table.Columns.Select(c => (Rich)c.Heading)], table, widths, new(s_head, 11.4, Ink.Rule, true), null) with { Before = 10, KeepWithNext = true, IsHead = true, Part = whole };
        yield return head;
        double[] behindPoint = [.. table.Columns.Select((c, i) => c.Right && table.Rows.Count > 1 ? table.Rows.Max(r => BehindPoint(r[i]) ?? 0) : 0)];
        for (int i = 0; i < table.Rows.Count; i++)
        {
            bool last = i == table.Rows.Count - 1;
            // The first two and the last two rows stay together; so does the caption with the last row.
            bool keep = i == 0 || i == table.Rows.Count - 2 || (last && table.Caption is not null);
            yield return Row(table.Rows[i], table, widths, new(s_cell, table.ToWriteIn ? 19 : 13.4, last ? Ink.Rule : Ink.Hair, false), behindPoint) with { Head = head, KeepWithNext = keep, Part = whole };
        }
        if (table.Caption is { } caption)
            yield return PdfBlocks.Lines(caption, s_head with { Weight = 500 }, 12.4, 5, W * 0.86) with { Part = new(PdfBlockLevelElementTag.Paragraph) };
    }

    private sealed record RowLook(TypeStyle Style, double Leading, Ink Under, bool IsHead);

    private static Slab Row(IReadOnlyList<Rich> cells, Block.Table table, double[] widths, RowLook look, double[]? behindPoint)
    {
        IReadOnlyList<PdfText.Line>[] set = [.. cells.Select((c, i) => PdfText.Break(c, look.Style, Math.Max(12, widths[i] - Gap)))];
        double[] shift = [.. cells.Select((c, i) => behindPoint is not null && BehindPoint(c) is { } own ? Math.Min(behindPoint[i] - own, Math.Max(0, widths[i] - Gap - set[i].Max(l => l.Width))) : 0)];
        double height = (set.Max(l => l.Count) * look.Leading) + 3.6;
        return new(0, height, (page, x, y) =>
        {
            page.Element(PdfBlockLevelElementTag.TableRow, () =>
            {
                double left = x;
                for (int i = 0; i < set.Length; i++)
                {
                    int cell = i;
                    page.Element(look.IsHead ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell, () => Cell(page, set[cell], look, left, table.Columns[cell].Right ? widths[cell] - Gap - shift[cell] : null, y));
                    left += widths[i];
                }
            });
            page.Decoration(g => g.DrawLine(PdfBlocks.Stroke(look.Under, 0.6), x, y + height, x + W, y + height));
        });
    }

    private static void Cell(PdfSurface page, IReadOnlyList<PdfText.Line> lines, RowLook look, double left, double? right, double y)
    {
        if (look.IsHead)
            page.HeadsColumn();
        double baseline = y + (look.Leading * 0.5) + (look.Style.Size * 0.33) + 1.2;
        foreach (PdfText.Line line in lines)
        {
            page.Text(line, right is { } edge ? left + edge - line.Width : left, baseline);
            baseline += look.Leading;
        }
    }

    // Width of what stands behind the decimal point; null for anything but a plain number, which stays at the edge.
    private static double? BehindPoint(Rich cell) => NumberColumn.BehindPoint(cell) is { } behind ? TypeMeasure.Width(behind, s_cell) : null;
}
