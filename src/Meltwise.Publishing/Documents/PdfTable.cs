using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Documents;

/// <summary>Sets a table: rule under the head and at the end, hairlines between rows, no uprights; rows are never cut and the head is repeated on a new page.</summary>
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
        Slab head = Row([.. table.Columns.Select(c => (Rich)c.Heading)], table, widths, s_head, 11.4, Ink.Rule) with { Before = 10, KeepWithNext = true };
        yield return head;
        for (int i = 0; i < table.Rows.Count; i++)
        {
            bool last = i == table.Rows.Count - 1;
            // The first two and the last two rows stay together; so does the caption with the last row.
            bool keep = i == 0 || i == table.Rows.Count - 2 || (last && table.Caption is not null);
            yield return Row(table.Rows[i], table, widths, s_cell, table.ToWriteIn ? 19 : 13.4, last ? Ink.Rule : Ink.Hair) with { Head = head, KeepWithNext = keep };
        }
        if (table.Caption is { } caption)
            yield return PdfBlocks.Lines(caption, s_head with { Weight = 500 }, 12.4, 5, W * 0.86);
    }

    private static Slab Row(IReadOnlyList<Rich> cells, Block.Table table, double[] widths, TypeStyle style, double leading, Ink under)
    {
        IReadOnlyList<PdfText.Line>[] set = [.. cells.Select((c, i) => PdfText.Break(c, style, Math.Max(12, widths[i] - Gap)))];
        double height = (set.Max(l => l.Count) * leading) + 3.6;
        return new(0, height, (page, x, y) =>
        {
            double left = x;
            for (int i = 0; i < set.Length; i++)
            {
                double baseline = y + (leading * 0.5) + (style.Size * 0.33) + 1.2;
                foreach (PdfText.Line line in set[i])
                {
                    PdfText.Draw(page, line, table.Columns[i].Right ? left + widths[i] - Gap - line.Width : left, baseline);
                    baseline += leading;
                }
                left += widths[i];
            }
            page.DrawLine(PdfBlocks.Stroke(under, 0.6), x, y + height, x + W, y + height);
        });
    }
}
