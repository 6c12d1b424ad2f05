using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;
using PdfSharp.Drawing;
using PdfSharp.UniversalAccessibility;

namespace Meltwise.Publishing.Documents;

/// <summary>Turns blocks into slabs of a printed page.</summary>
internal static class PdfBlocks
{
    private const double W = PdfFlow.Width;
    private static readonly TypeStyle s_body = new(Face.Text, 400, false, 10.2, Ink.Main);
    private static readonly TypeStyle s_lead = s_body with { Size = 11.6 };
    private static readonly TypeStyle s_note = new(Face.Label, 500, false, 8.8, Ink.Second);
    private static readonly TypeStyle s_label = s_note with { Weight = 650 };
    private static readonly TypeStyle s_cell = s_body with { Size = 9.5 };
    private static readonly XPen s_rule = Stroke(Ink.Rule, 0.6);
    private static readonly XPen s_hair = Stroke(Ink.Hair, 0.6);

    /// <summary>The slabs of a document.</summary>
    public static IReadOnlyList<Slab> Slabs(IReadOnlyList<Block> blocks)
    {
        List<Slab> slabs = [];
        bool newPage = false;
        for (int i = 0; i < blocks.Count; i++)
        {
            Block block = blocks[i];
            if (block is Block.NewPage)
            {
                newPage = true;
                continue;
            }
            int first = slabs.Count;
            slabs.AddRange(Of(block));
            if (newPage && slabs.Count > first)
                slabs[first] = slabs[first] with { NewPage = true };
            newPage = false;
            // Rows of pictures may stand on two pages; only the last one keeps with the words under it.
            if (block is Block.Micrographs && i + 1 < blocks.Count && blocks[i + 1] is Block.Micrographs)
                slabs[^1] = slabs[^1] with { KeepWithNext = false };
            // Cautions and the words that close them are read together.
            if (block is Block.Caution && i + 1 < blocks.Count && blocks[i + 1] is Block.Caution or Block.Paragraph { Kind: TextKind.Note })
                slabs[^1] = slabs[^1] with { KeepWithNext = true };
        }
        return slabs;
    }

    private static IEnumerable<Slab> Of(Block block) => block switch
    {
        Block.Title t => Title(t),
        Block.Part p => [Part(p)],
        Block.Heading h => [Lines(h.Text, s_body with { Weight = 600, Size = 10.6 }, 15, 14, W) with { KeepWithNext = true, Part = new(PdfBlockLevelElementTag.Heading3) }],
        Block.Paragraph p => Paragraph(p),
        Block.OutcomeHead o => [Outcome(o)],
        Block.RuleFrame f => [PdfFrame.Of(f)],
        Block.TermList t => OfList(t.Terms.Select(term => PdfFrame.Line(term, W))),
        Block.Table t => PdfTable.Of(t),
        Block.Drawn d => [Drawn(d)],
        Block.Micrographs m => [Micrographs(m)],
        Block.Claims c => [Claims(c)],
        Block.Items i => OfList(i.Lines.Select(Item)),
        Block.Caution c => [Caution(c)],
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static IEnumerable<Slab> OfList(IEnumerable<Slab> items)
    {
        PdfElement list = new(PdfBlockLevelElementTag.List);
        return items.Select(i => i with { Part = list });
    }

    /// <summary>A pen of a token.</summary>
    internal static XPen Stroke(Ink ink, double width) => new(PdfFonts.Colour(Palette.Print[ink]), width);

    /// <summary>Text as one slab, in whatever element is open.</summary>
    internal static Slab Lines(Rich text, TypeStyle style, double leading, double before, double width)
    {
        IReadOnlyList<PdfText.Line> lines = PdfText.Break(text, style, width);
        return new(before, lines.Count * leading, (page, x, y) =>
        {
            foreach (PdfText.Line line in lines)
            {
                page.Text(line, x, y + (leading * 0.5) + (style.Size * 0.33));
                y += leading;
            }
        });
    }

    private static IEnumerable<Slab> Title(Block.Title title)
    {
        foreach (string line in title.Above)
            yield return Lines(line, s_note, 12.5, 0, W) with { KeepWithNext = true, Part = new(PdfBlockLevelElementTag.Paragraph) };
        // A whole question as a title is set smaller, so that the answer and its figure share the first page.
        bool isLong = title.Text.Length > 70;
        yield return Lines(title.Text, new(Face.Text, 500, false, isLong ? 17 : 23.5, Ink.Main), isLong ? 21 : 28, 8, W) with { KeepWithNext = true, Part = new(PdfBlockLevelElementTag.Heading1) };
    }

    private static Slab Part(Block.Part part)
    {
        PdfText.Line number = PdfText.Break(part.Number.ToString(System.Globalization.CultureInfo.InvariantCulture), new(Face.Text, 400, false, 21, Ink.Main), 60)[0];
        PdfText.Line name = PdfText.Break(part.Text, new(Face.Text, 600, false, 13, Ink.Main), W - 180)[0];
        PdfText.Line? state = part.State is null ? null : PdfText.Break(part.State, s_note, 240)[0];
        return new(24, 34, (page, x, y) =>
        {
            page.Decoration(g => g.DrawLine(s_rule, x, y, x + W, y));
            page.Element(PdfBlockLevelElementTag.Heading2, () =>
            {
                page.Text(number with { GoesOn = true }, x, y + 24);
                page.Text(name, x + number.Width + 9, y + 24);
            });
            if (state is null)
                return;
            page.Element(PdfBlockLevelElementTag.Paragraph, () => page.Text(state, x + W - state.Width, y + 24));
            if (part.Locked)
                page.Decoration(g => PdfFrame.Wedges(g, x + W - state.Width - 19, y + 18, true));
        })
        { KeepWithNext = true, Outline = $"{part.Number} {part.Text}" };
    }

    private static IEnumerable<Slab> Paragraph(Block.Paragraph paragraph)
    {
        (TypeStyle style, double leading, double before) = paragraph.Kind switch
        {
            TextKind.Lead => (s_lead, 17.2, 8.0),
            TextKind.Sentence => (s_lead with { Size = 11.8 }, 18.0, 8.0),
            TextKind.Note => (s_note, 12.8, 6.0),
            TextKind.Warning => (s_body with { Weight = 600 }, 16.0, 8.0),
            _ => (s_body, 15.6, 6.0),
        };
        IReadOnlyList<PdfText.Line> lines = PdfText.Break(paragraph.Text, style, Math.Min(W, 46 * style.Size));
        PdfElement whole = new(PdfBlockLevelElementTag.Paragraph);
        for (int i = 0; i < lines.Count; i++)
        {
            PdfText.Line line = lines[i];
            // No first or last line of a paragraph stands alone.
            bool keep = lines.Count > 1 && (i == 0 || i == lines.Count - 2);
            yield return new Slab(i == 0 ? before : 0, leading, (page, x, y) => page.Text(line, x, y + (leading * 0.5) + (style.Size * 0.33))) { KeepWithNext = keep, Part = whole };
        }
    }

    private static Slab Outcome(Block.OutcomeHead outcome)
    {
        Slab under = Lines(outcome.Under, s_note, 13, 0, W), word = Lines(outcome.Word, new(Face.Text, 500, false, 36, Ink.Main), 38, 0, W);
        Slab? qualifier = outcome.Qualifier.Length == 0 ? null : Lines(outcome.Qualifier, new(Face.Text, 400, true, 17.5, Ink.Main), 22, 0, W);
        return new(6, under.Height + word.Height + (qualifier?.Height ?? 0), (page, x, y) =>
        {
            page.Element(PdfBlockLevelElementTag.Paragraph, () => under.Draw(page, x, y));
            page.Element(PdfBlockLevelElementTag.Heading3, () => word.Draw(page, x - 1, y + under.Height));
            if (qualifier is not null)
                page.Element(PdfBlockLevelElementTag.Paragraph, () => qualifier.Draw(page, x, y + under.Height + word.Height));
        })
        { KeepWithNext = true };
    }

    private static Slab Drawn(Block.Drawn drawn)
    {
        Sheet sheet = FigureLayout.Lay(drawn.Figure, new(drawn.ShowTitle, true));
        const double Room = PdfFlow.PageHeight - PdfFlow.Top - PdfFlow.Bottom - 40;
        double scale = Math.Min(Math.Min(W / 820, W / sheet.Width), Room / sheet.Height);
        Slab At(double size) => new(14, sheet.Height * size, (page, x, y) =>
        {
            double left = x + ((W - (sheet.Width * size)) / 2);
            page.Figure(Words(drawn.Figure), new(left, y, sheet.Width * size, sheet.Height * size), g => PdfPainter.Draw(g, sheet, Palette.Print, left, y, size));
        });
        return At(scale) with { Within = height => height >= SmallestFigure * sheet.Height * scale ? At(Math.Min(scale, height / sheet.Height)) : null, MayFloat = true };
    }

    // Lettering of 13.5 px is then 6.4 pt high, which a person still reads in print.
    private const double SmallestFigure = 0.8;

    private static string Words(Figure figure) => string.Join(' ', ((IEnumerable<string>)[figure.Title.TrimEnd('.') + ".", figure.Description, figure.CaptionLead, figure.Caption, .. figure.Sources]).Where(t => t.Length > 1));

    private static Slab Micrographs(Block.Micrographs block)
    {
        const double Between = 16;
        double column = (W - (Between * (block.Pictures.Count - 1))) / block.Pictures.Count;
        IReadOnlyList<MicrographPair.Placed> pictures = MicrographPair.Place(block.Pictures, column);
        Slab[] captions = [.. pictures.Select(p => Lines(p.Caption, s_note, 12.4, 0, column))];
        double tallest = pictures.Max(p => p.Height);
        return new(14, tallest + 20 + captions.Max(c => c.Height), (page, x, y) =>
        {
            for (int i = 0; i < pictures.Count; i++)
            {
                int n = i;
                double left = x + (i * (column + Between)), top = y + tallest - pictures[i].Height;
                page.Figure($"Micrograph{(pictures[i].Bar > 0 ? $" with a bar of {pictures[i].BarLabel}" : "")}: {pictures[i].Caption.PlainText}", new(left, top, pictures[i].Width, pictures[i].Height), g => DrawPicture(g, pictures[n], left, top));
                page.Element(PdfBlockLevelElementTag.Paragraph, () => captions[n].Draw(page, left, y + tallest + 20));
            }
        })
        { KeepWithNext = true };
    }

    private static void DrawPicture(XGraphics page, MicrographPair.Placed picture, double x, double y)
    {
        using MemoryStream pixels = new(picture.Picture.Png);
        using XImage image = XImage.FromStream(pixels);
        page.DrawImage(image, x, y, picture.Width, picture.Height);
        page.DrawRectangle(Stroke(Ink.Rule, 0.4), x, y, picture.Width, picture.Height);
        if (picture.Bar <= 0)
            return;
        double bar = y + picture.Height + 10;
        page.DrawLine(Stroke(Ink.Main, 2), x, bar, x + picture.Bar, bar);
        PdfText.Draw(page, PdfText.Break(picture.BarLabel, s_label, W)[0], x + picture.Bar + 6, bar + 3);
    }

    private static Slab Claims(Block.Claims claims)
    {
        const double Column = (W - 24) / 2;
        Slab may = Claim("May be claimed", claims.May, false, Column), mayNot = Claim("May not be claimed", claims.MayNot, true, Column);
        return new(16, Math.Max(may.Height, mayNot.Height), (page, x, y) =>
        {
            may.Draw(page, x, y);
            mayNot.Draw(page, x + Column + 24, y);
        });
    }

    private static Slab Claim(string heading, IReadOnlyList<string> items, bool dashed, double width)
    {
        Slab[] lines = [.. items.Select(i => Lines(i, s_cell, 14, 0, width - 14))];
        XPen top = Stroke(Ink.Main, 0.9), cross = Stroke(Ink.Main, 1);
        if (dashed)
            top.DashPattern = [3, 2];
        return new(0, 22 + lines.Sum(l => l.Height + 7), (page, x, y) =>
        {
            page.Decoration(g => g.DrawLine(top, x, y, x + width, y));
            page.Element(PdfBlockLevelElementTag.Heading3, () => page.Text(PdfText.Break(heading, s_body with { Weight = 600 }, width)[0], x, y + 15));
            page.Element(PdfBlockLevelElementTag.List, () =>
            {
                double at = y + 22;
                for (int i = 0; i < lines.Length; i++)
                {
                    Slab line = lines[i];
                    if (i > 0)
                        page.Decoration(g => g.DrawLine(s_hair, x, at, x + width, at));
                    page.Decoration(g => ClaimSign(g, cross, dashed, x + 1, at + 8));
                    ItemOf(page, line, x + 14, at + 3.5);
                    at += line.Height + 7;
                }
            });
        });
    }

    private static void ClaimSign(XGraphics page, XPen pen, bool isCross, double x, double y)
    {
        page.DrawLine(pen, x, y + (isCross ? 0 : 2.5), x + 5, y + (isCross ? 5 : 2.5));
        if (isCross)
            page.DrawLine(pen, x, y + 5, x + 5, y);
    }

    private static void ItemOf(PdfSurface page, Slab text, double x, double y) =>
        page.Element(PdfBlockLevelElementTag.ListItem, () => page.Element(PdfBlockLevelElementTag.ListBody, () => text.Draw(page, x, y)));

    private static Slab Item(Rich text)
    {
        Slab lines = Lines(text, s_body, 15.2, 3, W - 14);
        return lines with
        {
            Draw = (page, x, y) =>
            {
                page.Decoration(g => g.DrawLine(Stroke(Ink.Main, 0.9), x + 1, y + 8, x + 6, y + 8));
                ItemOf(page, lines, x + 14, y);
            },
        };
    }

    private static Slab Caution(Block.Caution caution)
    {
        Slab text = Lines(Rich.Led(caution.Step + ".", $"{caution.Text} ({caution.WrittenIn})"), s_note, 12.8, 0, W * 0.86);
        return new(9, text.Height, (page, x, y) =>
        {
            page.Decoration(g =>
            {
                g.DrawLine(Stroke(Ink.Main, 0.7), x + 0.4, y, x + 0.4, y + text.Height);
                g.DrawLine(Stroke(Ink.Main, 0.7), x + 2.6, y, x + 2.6, y + text.Height);
            });
            page.Element(PdfBlockLevelElementTag.Paragraph, () => text.Draw(page, x + 10, y));
        });
    }
}
