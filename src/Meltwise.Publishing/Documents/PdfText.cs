using System.Text;
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

        /// <summary>Whether the text goes on in the next line: a blank is set behind it, so that a reader of the file does not join two words.</summary>
        public bool GoesOn { get; init; }
    }

    /// <summary>Breaks text into lines no wider than a width, only at blanks; a word wider than the width is broken.</summary>
    public static IReadOnlyList<Line> Break(Rich text, TypeStyle style, double width)
    {
        List<Line> lines = [];
        List<Piece> line = [];
        double used = 0;
        foreach (IReadOnlyList<Piece> word in WholeWords(text, style))
        {
            foreach (IReadOnlyList<Piece> part in word.Sum(p => p.Width) <= width ? [word] : word.SelectMany(p => Fit(p, width)).Select(p => (IReadOnlyList<Piece>)[p]))
            {
                double needed = part.Sum(p => p.Width);
                bool blank = part is [{ Text: " " }];
                if (!blank && used > 0 && used + needed > width)
                {
                    lines.Add(Trim(line));
                    (line, used) = ([], 0);
                }
                if (blank && line.Count == 0)
                    continue;
                line.AddRange(part);
                used += needed;
            }
        }
        if (line.Count > 0)
            lines.Add(Trim(line));
        return lines.Count == 0 ? [new([])] : [.. lines.Select((l, i) => l with { GoesOn = i < lines.Count - 1 })];
    }

    // A blank, or all that stands between two blanks, of however many styles.
    private static IEnumerable<IReadOnlyList<Piece>> WholeWords(Rich text, TypeStyle style)
    {
        List<Piece> word = [];
        foreach (Piece piece in Words(text, style))
        {
            if (piece.Text != " ")
            {
                word.Add(piece);
                continue;
            }
            if (word.Count > 0)
                yield return word;
            word = [];
            yield return [piece];
        }
        if (word.Count > 0)
            yield return word;
    }

    /// <summary>Sets a line with its baseline at a place.</summary>
    public static void Draw(XGraphics page, Line line, double x, double baseline)
    {
        for (int first = 0; first < line.Pieces.Count;)
        {
            Piece piece = line.Pieces[first];
            int next = first;
            double width = 0;
            StringBuilder run = new();
            for (; next < line.Pieces.Count && line.Pieces[next].Style == piece.Style && line.Pieces[next].Struck == piece.Struck; next++)
            {
                run.Append(line.Pieces[next].Text);
                width += line.Pieces[next].Width;
            }
            if (line.GoesOn && next == line.Pieces.Count)
                run.Append(' ');
            page.DrawString(run.ToString(), PdfFonts.Of(piece.Style, 1), new XSolidBrush(PdfFonts.Colour(Palette.Print[piece.Style.Ink])), x, baseline, XStringFormats.BaseLineLeft);
            if (piece.Struck)
                page.DrawLine(new(PdfFonts.Colour(Palette.Print[piece.Style.Ink]), 0.6), x, baseline - (0.25 * piece.Style.Size), x + width, baseline - (0.25 * piece.Style.Size));
            x += width;
            first = next;
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
