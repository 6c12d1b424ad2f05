using System.Globalization;
using System.Text;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Drawing;

/// <summary>Writes a sheet as SVG with real text.</summary>
public sealed class SvgWriter
{
    private readonly Palette _palette;
    private readonly bool _standalone;
    private readonly StringBuilder _out = new();
    private readonly SortedSet<string> _faces = new(StringComparer.Ordinal);
    private readonly string _idPrefix;
    private int _clips;
    private bool _links;

    private SvgWriter(Palette palette, bool standalone, string idPrefix)
    {
        _palette = palette;
        _standalone = standalone;
        _idPrefix = idPrefix;
    }

    /// <summary>Writes the sheet.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="palette">Colours: fixed ones for a file, CSS variables for a page.</param>
    /// <param name="standalone">True for a file of its own: name space, fonts inside. False for a part of a page.</param>
    /// <param name="title">Accessible name.</param>
    /// <param name="idPrefix">Prefix of ids, so that several drawings live in one page.</param>
    /// <param name="attributes">More attributes of the root, already escaped, with a leading space.</param>
    public static string Write(Sheet sheet, Palette palette, bool standalone, string title, string idPrefix, string attributes = "")
    {
        SvgWriter writer = new(palette, standalone, idPrefix);
        foreach (Shape shape in sheet.Shapes)
            writer.Add(shape);
        StringBuilder svg = new();
        svg.Append("<svg class=\"fig\"");
        if (standalone)
            svg.Append(" xmlns=\"http://www.w3.org/2000/svg\"");
        svg.Append(CultureInfo.InvariantCulture, $" width=\"{N(sheet.Width)}\" height=\"{N(sheet.Height)}\" viewBox=\"0 0 {N(sheet.Width)} {N(sheet.Height)}\" role=\"{(writer._links ? "group" : "img")}\" aria-label=\"{Escape(title)}\"{attributes}>\n");
        if (standalone)
            writer.Head(svg, sheet);
        return svg.Append(writer._out).Append("</svg>").ToString();
    }

    /// <summary>A number in the shortest form with two decimals at most.</summary>
    internal static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary>Text made safe for XML content and double-quoted attributes; control characters that XML cannot hold are left out.</summary>
    public static string Escape(string text)
    {
        StringBuilder safe = new(text.Length + 8);
        foreach (char c in text)
        {
            switch (c)
            {
                case '&': safe.Append("&amp;"); break;
                case '<': safe.Append("&lt;"); break;
                case '>': safe.Append("&gt;"); break;
                case '"': safe.Append("&quot;"); break;
                case '\'': safe.Append("&#39;"); break;
                case '\t' or '\n' or '\r': safe.Append(' '); break;
                case < ' ' or '\uFFFE' or '\uFFFF': break;
                default: safe.Append(c); break;
            }
        }
        return safe.ToString();
    }

    private void Head(StringBuilder svg, Sheet sheet)
    {
        svg.Append("<style>text{font-variant-numeric:lining-nums tabular-nums}");
        foreach (string face in _faces)
        {
            bool label = face.Contains("label", StringComparison.Ordinal);
            string weight = string.Concat(face.Where(char.IsAsciiDigit));
            svg.Append(CultureInfo.InvariantCulture, $"@font-face{{font-family:\"{(label ? "Meltwise Label" : "Meltwise Text")}\";font-weight:{weight};font-style:{(face.Contains("italic", StringComparison.Ordinal) ? "italic" : "normal")};src:url(data:font/ttf;base64,{Convert.ToBase64String(FontFile.Read(face))})}}");
        }
        svg.Append("</style>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<rect width=\"{N(sheet.Width)}\" height=\"{N(sheet.Height)}\" fill=\"{_palette[Ink.Paper]}\"/>\n");
    }

    private void Add(Shape shape)
    {
        switch (shape)
        {
            case Shape.Path path: AddPath(path); break;
            case Shape.Circle circle: AddCircle(circle); break;
            case Shape.Text text: AddText(text); break;
            case Shape.Clip clip: AddClip(clip); break;
            case Shape.Named named: AddNamed(named); break;
        }
    }

    private void AddPath(Shape.Path path)
    {
        _out.Append("<path d=\"");
        for (int i = 0; i < path.Places.Count; i++)
            _out.Append(i == 0 ? 'M' : 'L').Append(N(path.Places[i].X)).Append(' ').Append(N(path.Places[i].Y));
        _out.Append(path.Closed ? "Z\"" : "\"");
        Paint(path.Fill, path.Pen);
    }

    private void AddCircle(Shape.Circle circle)
    {
        _out.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{N(circle.Centre.X)}\" cy=\"{N(circle.Centre.Y)}\" r=\"{N(circle.Radius)}\"");
        Paint(circle.Fill, circle.Pen);
    }

    private void Paint(Ink? fill, Pen? pen)
    {
        _out.Append(" fill=\"").Append(fill is { } f ? _palette[f] : "none").Append('"');
        if (pen is not null)
        {
            _out.Append(" stroke=\"").Append(_palette[pen.Ink]).Append("\" stroke-width=\"").Append(N(pen.Width)).Append('"');
            if (pen.Dash is { } dash)
                _out.Append(" stroke-dasharray=\"").AppendJoin(' ', dash.Select(N)).Append('"');
        }
        _out.Append("/>\n");
    }

    private void AddText(Shape.Text text)
    {
        TypeStyle style = text.Style;
        _faces.Add(FontFile.For(style));
        string family = style.Face == Face.Label ? "Ysabeau,'Meltwise Label','Ysabeau Signs',sans-serif" : "Vollkorn,'Meltwise Text','Vollkorn Signs',serif";
        if (_standalone)
            family = style.Face == Face.Label ? "'Meltwise Label',sans-serif" : "'Meltwise Text',serif";
        _out.Append(CultureInfo.InvariantCulture, $"<text x=\"{N(text.Baseline.X)}\" y=\"{N(text.Baseline.Y)}\" font-family=\"{family}\" font-size=\"{N(style.Size)}\" font-weight=\"{style.Weight}\" fill=\"{_palette[style.Ink]}\"");
        if (style.Italic)
            _out.Append(" font-style=\"italic\"");
        if (text.Anchor != Anchor.Start)
            _out.Append(text.Anchor == Anchor.Middle ? " text-anchor=\"middle\"" : " text-anchor=\"end\"");
        if (text.Halo)
            _out.Append(" paint-order=\"stroke\" stroke=\"").Append(_palette[Ink.Paper]).Append("\" stroke-width=\"4\" stroke-linejoin=\"round\"");
        _out.Append('>').Append(Escape(text.Content)).Append("</text>\n");
    }

    private void AddClip(Shape.Clip clip)
    {
        string id = $"{_idPrefix}-clip-{++_clips}";
        _out.Append(CultureInfo.InvariantCulture, $"<clipPath id=\"{id}\"><rect x=\"{N(clip.X)}\" y=\"{N(clip.Y)}\" width=\"{N(clip.Width)}\" height=\"{N(clip.Height)}\"/></clipPath><g clip-path=\"url(#{id})\">\n");
        foreach (Shape inside in clip.Inside)
            Add(inside);
        _out.Append("</g>\n");
    }

    private void AddNamed(Shape.Named named)
    {
        bool link = named.Link is not null && SafeLink(named.Link) && !_standalone;
        // With links inside, the drawing is a group of named things; without, one picture.
        _links |= link;
        _out.Append(link ? $"<a href=\"{Escape(named.Link!)}\" tabindex=\"-1\" aria-label=\"{Escape(named.Name ?? named.Link!)}\"" : "<g");
        if (named.Name is not null)
            _out.Append(CultureInfo.InvariantCulture, $" class=\"mark\" data-name=\"{Escape(named.Name)}\"");
        if (named.Detail is not null)
            _out.Append(CultureInfo.InvariantCulture, $" data-detail=\"{Escape(named.Detail)}\"");
        foreach ((string key, string value) in named.Facts)
            _out.Append(CultureInfo.InvariantCulture, $" data-{key}=\"{Escape(value)}\"");
        _out.Append('>');
        if (named.Name is not null)
            _out.Append("<title>").Append(Escape(named.Detail is null ? named.Name : $"{named.Name}: {named.Detail}")).Append("</title>");
        _out.Append('\n');
        foreach (Shape inside in named.Inside)
            Add(inside);
        _out.Append(link ? "</a>\n" : "</g>\n");
    }

    // A place in this page, or an address on this server, from its root or from the page's base: never another host, never a scheme.
    private static bool SafeLink(string link) =>
        link.Length > 0 && !link.StartsWith("//", StringComparison.Ordinal) && link.AsSpan().IndexOfAny(":\\") < 0 && !link.Any(char.IsControl);
}
