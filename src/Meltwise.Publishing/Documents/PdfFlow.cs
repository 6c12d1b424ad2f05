using Meltwise.Publishing.Drawing;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Meltwise.Publishing.Documents;

/// <summary>A piece of a page that is never cut: a line, a table row, a figure, a frame.</summary>
/// <param name="Before">Space above it, dropped at the top of a page.</param>
/// <param name="Height">Height.</param>
/// <param name="Draw">Draws it with its upper left corner at x, y.</param>
internal sealed record Slab(double Before, double Height, Action<PdfSurface, double, double> Draw)
{
    /// <summary>Whether it must stand on the page of the slab after it.</summary>
    public bool KeepWithNext { get; init; }

    /// <summary>Begins a page where less than half of the page is left.</summary>
    public bool NewPage { get; init; }

    /// <summary>Head of the table it belongs to, set again where a page begins with this slab.</summary>
    public Slab? Head { get; init; }

    /// <summary>Whether it is the head of a table.</summary>
    public bool IsHead { get; init; }

    /// <summary>The same in the height that is given, or null where it would be too small to read; taken where that saves turning the page.</summary>
    public Func<double, Slab?>? Within { get; init; }

    /// <summary>The element of the structure that it shares with the slabs beside it.</summary>
    public PdfElement? Part { get; init; }

    /// <summary>Where it would turn the page, what follows may come before it, up to the next part or figure.</summary>
    public bool MayFloat { get; init; }

    /// <summary>Entry in the outline.</summary>
    public string? Outline { get; init; }
}

/// <summary>Flows slabs over A4 pages: nothing cut, headings kept with what follows, table heads repeated, a foot on every page.</summary>
internal static class PdfFlow
{
    /// <summary>Margins and width of the text, pt (A4 is 595.28 × 841.89 pt: ISO 216, 210 mm × 297 mm).</summary>
    public const double Left = 56.7, Top = 54, Bottom = 62, PageWidth = 595.28, PageHeight = 841.89, Width = PageWidth - (2 * Left);

    private sealed record Placed(Slab Slab, double Y);

    /// <summary>Sets the slabs.</summary>
    public static void Set(PdfDocument document, IReadOnlyList<Slab> slabs, string foot)
    {
        List<List<Placed>> pages = Paginate(slabs);
        PdfSurface surface = new(document, "en");
        HashSet<Slab> heads = new(ReferenceEqualityComparer.Instance);
        for (int i = 0; i < pages.Count; i++)
        {
            PdfPage page = document.AddPage();
            page.Width = XUnit.FromPoint(PageWidth);
            page.Height = XUnit.FromPoint(PageHeight);
            using XGraphics graphics = XGraphics.FromPdfPage(page);
            surface.Turn(graphics);
            surface.Decoration(g => Foot(g, foot, i + 1, pages.Count));
            foreach (Placed placed in pages[i])
            {
                surface.Share(placed.Slab.Part);
                // A head that is set again at the top of a page was read once already.
                if (placed.Slab.IsHead && !heads.Add(placed.Slab))
                    surface.Decoration(_ => placed.Slab.Draw(surface, Left, placed.Y));
                else
                    placed.Slab.Draw(surface, Left, placed.Y);
                if (placed.Slab.Outline is { } outline)
                    document.Outlines.Add(outline, page);
            }
        }
        surface.Close();
    }

    // One pass, greedy: a page once set is never changed.
    private static List<List<Placed>> Paginate(IReadOnlyList<Slab> given)
    {
        List<Slab> slabs = [.. given];
        List<List<Placed>> pages = [[]];
        double y = Top;
        for (int i = 0; i < slabs.Count;)
        {
            int end = GroupEnd(slabs, i);
            double needed = 0;
            for (int k = i; k < end; k++)
                needed += slabs[k].Height + (k == i && pages[^1].Count == 0 ? 0 : slabs[k].Before);
            if (end == i + 1 && y + needed > PageHeight - Bottom && slabs[i].Within?.Invoke(PageHeight - Bottom - y - slabs[i].Before) is { } smaller)
            {
                pages[^1].Add(new(smaller, y + smaller.Before));
                y += smaller.Before + smaller.Height;
                i = end;
                continue;
            }
            bool begins = pages[^1].Count > 0 && ((slabs[i].NewPage && y > PageHeight / 2) || y + needed > PageHeight - Bottom);
            if (begins && end == i + 1 && slabs[i].MayFloat && LetPass(slabs, i, PageHeight - Bottom - y))
                continue;
            if (begins)
            {
                pages.Add([]);
                y = Top;
                if (slabs[i].Head is { } head)
                {
                    pages[^1].Add(new(head, y));
                    y += head.Height;
                }
            }
            for (int k = i; k < end; k++)
            {
                y += pages[^1].Count == 0 ? 0 : slabs[k].Before;
                pages[^1].Add(new(slabs[k], y));
                y += slabs[k].Height;
            }
            i = end;
        }
        return pages;
    }

    // Moves what follows a figure before it, as far as it fits the room that is left.
    private static bool LetPass(List<Slab> slabs, int figure, double room)
    {
        int next = figure + 1;
        double used = 0;
        while (next < slabs.Count)
        {
            int end = GroupEnd(slabs, next);
            List<Slab> group = slabs.GetRange(next, end - next);
            used += group.Sum(s => s.Before + s.Height);
            if (used > room || group.Exists(s => s.MayFloat || s.NewPage || s.Outline is not null || s.Head is not null))
                break;
            next = end;
        }
        if (next == figure + 1)
            return false;
        Slab moved = slabs[figure];
        slabs.RemoveAt(figure);
        slabs.Insert(next - 1, moved);
        return true;
    }

    // Slabs that must stay together, cut off where they would not fit a page at all.
    private static int GroupEnd(IReadOnlyList<Slab> slabs, int start)
    {
        double height = slabs[start].Height;
        int end = start + 1;
        while (end < slabs.Count && slabs[end - 1].KeepWithNext && !slabs[end].NewPage && height + slabs[end].Before + slabs[end].Height < PageHeight - Top - Bottom)
        {
            height += slabs[end].Before + slabs[end].Height;
            end++;
        }
        return end;
    }

    private static void Foot(XGraphics graphics, string foot, int page, int pages)
    {
        TypeStyle style = new(Face.Label, 500, false, 8.2, Ink.Third);
        double baseline = PageHeight - 32;
        graphics.DrawLine(new XPen(PdfFonts.Colour(Palette.Print[Ink.Rule]), 0.5), Left, baseline - 13, PageWidth - Left, baseline - 13);
        PdfText.Draw(graphics, PdfText.Break(foot, style, Width - 60)[0], Left, baseline);
        PdfText.Line number = PdfText.Break($"{page} / {pages}", style, 60)[0];
        PdfText.Draw(graphics, number, PageWidth - Left - number.Width, baseline);
    }
}
