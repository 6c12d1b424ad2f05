using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;
using PdfSharp.Drawing;

namespace Meltwise.Publishing.Documents;

/// <summary>Breaks rich text into lines and sets them on a PDF page.</summary>
internal static class PdfText
{
    /// <summary>A piece of a line.</summary>
    public sealed record Piece(string Text, TypeStyle Style, bool Struck, double Width);

    /// <summary>A line.</summary>
    public sealed record Line(IReadOnlyList<Piece> Pieces)
    {
        /// <summary>Width, pt.</summary>
        public double Width => Pieces.Sum(p => p.Width);
    }

    /// <summary>Breaks text into lines no wider than a width; a word wider than the width is broken.</summary>
    public static IReadOnlyList<Line> Break(Rich text, TypeStyle style, double width)
    {
        List<Line> lines = [];
        List<Piece> line = [];
        double used = 0;
        foreach (Piece word in Words(text, style).SelectMany(w => Fit(w, width)))
        {
            bool blank = word.Text == " ";
            if (!blank && used > 0 && used + word.Width > width)
            {
                lines.Add(Trim(line));
                (line, used) = ([], 0);
            }
            if (blank && line.Count == 0)
                continue;
            line.Add(word);
            used += word.Width;
        }
        if (line.Count > 0)
            lines.Add(Trim(line));
        return lines.Count == 0 ? [new([])] : lines;
    }

    /// <summary>Sets a line with its baseline at a place.</summary>
    public static void Draw(XGraphics page, Line line, double x, double baseline)
    {
        foreach (Piece piece in line.Pieces)
        {
            XSolidBrush brush = new(PdfFonts.Colour(Palette.Print[piece.Style.Ink]));
            if (piece.Text != " ")
                page.DrawString(piece.Text, PdfFonts.Of(piece.Style, 1), brush, x, baseline, XStringFormats.BaseLineLeft);
            if (piece.Struck)
                page.DrawLine(new(PdfFonts.Colour(Palette.Print[piece.Style.Ink]), 0.6), x, baseline - (0.25 * piece.Style.Size), x + piece.Width, baseline - (0.25 * piece.Style.Size));
            x += piece.Width;
        }
    }

    private static IEnumerable<Piece> Words(Rich text, TypeStyle style)
    {
        foreach (Run run in text.Runs)
        {
            TypeStyle set = run.Style switch
            {
                RunStyle.Strong => style with { Weight = style.Face == Face.Label ? 650 : 600, Ink = style.Face == Face.Label ? Ink.Main : style.Ink },
                RunStyle.Italic => style with { Italic = !style.Italic },
                RunStyle.Struck => style with { Ink = Ink.Third },
                _ => style,
            };
            string clean = run.Text.Replace('\u202F', '\u00A0').Replace('\u2011', '-').Replace('\n', ' ').Replace('\t', ' ');
            string[] words = clean.Split(' ');
            for (int i = 0; i < words.Length; i++)
            {
                if (i > 0)
                    yield return new(" ", set, run.Style == RunStyle.Struck, TypeMeasure.Width(" ", set));
                if (words[i].Length > 0)
                    yield return new(words[i], set, run.Style == RunStyle.Struck, TypeMeasure.Width(words[i], set));
            }
        }
    }

    private static IEnumerable<Piece> Fit(Piece word, double width)
    {
        while (word.Width > width && word.Text.Length > 1)
        {
            int length = word.Text.Length - 1;
            while (length > 1 && TypeMeasure.Width(word.Text[..length], word.Style) > width)
                length--;
            yield return new(word.Text[..length], word.Style, word.Struck, TypeMeasure.Width(word.Text[..length], word.Style));
            string rest = word.Text[length..];
            word = new(rest, word.Style, word.Struck, TypeMeasure.Width(rest, word.Style));
        }
        yield return word;
    }

    private static Line Trim(List<Piece> line)
    {
        while (line.Count > 0 && line[^1].Text == " ")
            line.RemoveAt(line.Count - 1);
        return new(line);
    }
}
