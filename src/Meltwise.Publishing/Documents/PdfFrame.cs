using Meltwise.Publishing.Drawing;
using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace Meltwise.Publishing.Documents;

/// <summary>Sets the rule in its frame: double and wedged when locked, dashed while open.</summary>
internal static class PdfFrame
{
    private const double W = PdfFlow.Width, Inset = 22, TermWidth = 104;
    private static readonly TypeStyle s_term = new(Face.Label, 650, false, 8.8, Ink.Second);
    private static readonly TypeStyle s_text = new(Face.Text, 400, false, 10, Ink.Main);

    /// <summary>The frame as one slab.</summary>
    public static Slab Of(Block.RuleFrame frame)
    {
        Slab question = PdfBlocks.Lines(frame.Question, new(Face.Text, 400, true, 15, Ink.Main), 20, 0, W - (2 * Inset) - 20);
        Slab[] terms = [.. frame.Terms.Select(t => Line(t, W - (2 * Inset)))];
        double height = 26 + question.Height + 10 + terms.Sum(t => t.Height) + 16;
        return new(16, height, (page, x, y) =>
        {
            PdfText.Line legend = PdfText.Break(frame.Legend, s_term with { Ink = Ink.Main }, W - 80)[0];
            page.Decoration(g => Border(g, frame, legend.Width, x, y, height));
            page.Element(PdfBlockLevelElementTag.Paragraph, () => page.Text(legend, x + 39, y + 3));
            page.Element(PdfBlockLevelElementTag.Paragraph, () => question.Draw(page, x + Inset, y + 24));
            double at = y + 24 + question.Height + 10;
            page.Element(PdfBlockLevelElementTag.List, () =>
            {
                foreach (Slab term in terms)
                {
                    term.Draw(page, x + Inset, at);
                    at += term.Height;
                }
            });
        });
    }

    /// <summary>A term and its text over a hairline, as an item of a list.</summary>
    public static Slab Line(Term term, double width)
    {
        Slab text = PdfBlocks.Lines(term.Text, s_text, 14.6, 0, width - TermWidth);
        return new(0, text.Height + 5, (page, x, y) =>
        {
            page.Decoration(g => g.DrawLine(PdfBlocks.Stroke(Ink.Hair, 0.6), x, y, x + width, y));
            page.Element(PdfBlockLevelElementTag.ListItem, () =>
            {
                page.Element(PdfBlockLevelElementTag.Label, () => page.Text(PdfText.Break(term.Name, s_term, TermWidth)[0], x, y + 13));
                page.Element(PdfBlockLevelElementTag.ListBody, () => text.Draw(page, x + TermWidth, y + 2.5));
            });
        });
    }

    /// <summary>Two wedges: closed to a block when locked, apart while open.</summary>
    public static void Wedges(XGraphics page, double x, double y, bool locked)
    {
        const double Size = 0.62;
        XPoint At(double px, double py) => new(x + (px * Size), y + (py * Size));
        XPoint[] lower = locked ? [At(0, 10), At(21, 10), At(21, 0.9)] : [At(0, 9.5), At(9, 9.5), At(9, 2)];
        XPoint[] upper = locked ? [At(0, 8.6), At(0, 0), At(20, 0)] : [At(13, 0.5), At(22, 0.5), At(13, 8)];
        if (locked)
        {
            XSolidBrush ink = new(PdfFonts.Colour(Palette.Print[Ink.Main]));
            page.DrawPolygon(ink, lower, XFillMode.Winding);
            page.DrawPolygon(ink, upper, XFillMode.Winding);
            return;
        }
        page.DrawPolygon(PdfBlocks.Stroke(Ink.Main, 0.6), lower);
        page.DrawPolygon(PdfBlocks.Stroke(Ink.Main, 0.6), upper);
    }

    private static void Border(XGraphics page, Block.RuleFrame frame, double legend, double x, double y, double height)
    {
        if (frame.Locked)
        {
            page.DrawRectangle(PdfBlocks.Stroke(Ink.Main, 1), x, y, W, height);
            page.DrawRectangle(PdfBlocks.Stroke(Ink.Rule, 0.6), x + 3, y + 3, W - 6, height - 6);
        }
        else
        {
            XPen dashed = PdfBlocks.Stroke(Ink.Rule, 0.7);
            dashed.DashPattern = [4, 3];
            page.DrawRectangle(dashed, x, y, W, height);
        }
        page.DrawRectangle(new XSolidBrush(PdfFonts.Colour(Palette.Print[Ink.Paper])), x + 14, y - 7, legend + 32, 14);
        Wedges(page, x + 20, y - 3.4, frame.Locked);
    }
}
