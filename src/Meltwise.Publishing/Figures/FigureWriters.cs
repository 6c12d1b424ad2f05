using System.Globalization;
using System.Text;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Drawing;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Meltwise.Publishing.Figures;

/// <summary>How a figure is written as SVG.</summary>
public sealed record FigureSvgOptions
{
    /// <summary>Colours; <see cref="Palette.Variables"/> for a page.</summary>
    public Palette Palette { get; init; } = Palette.Variables;

    /// <summary>True for a file of its own: fonts inside, title and caption drawn, fixed colours.</summary>
    public bool File { get; init; }

    /// <summary>Identity in the page.</summary>
    public string Id { get; init; } = "figure";

    /// <summary>Address that redraws the figure when a reader zooms: the script adds <c>panel</c>, <c>xMin</c>, <c>xMax</c>, <c>yMin</c>, <c>yMax</c>; null for no zoom.</summary>
    public string? Redraw { get; init; }

    /// <summary>Axis limits by panel.</summary>
    public IReadOnlyDictionary<int, AxisView>? Views { get; init; }

    /// <summary>A file of its own in fixed colours.</summary>
    public static FigureSvgOptions AsFile { get; } = new() { File = true, Palette = Palette.Light };
}

/// <summary>Writes a figure as SVG with real text; marks carry <c>data-name</c>, <c>data-detail</c> and links for the page's script.</summary>
public static class FigureSvg
{
    /// <summary>The SVG element, or file.</summary>
    public static string Write(Figure figure, FigureSvgOptions? options = null)
    {
        options ??= new();
        Sheet sheet = FigureLayout.Lay(figure, new(options.File, options.File, options.Views));
        if (options.File)
            sheet = Margins(sheet, 28);
        string attributes = options.File ? "" : $" id=\"{SvgWriter.Escape(options.Id)}\" data-figure=\"\"" + (options.Redraw is { } url ? $" data-redraw=\"{SvgWriter.Escape(url)}\"" : "");
        Palette palette = options.File && ReferenceEquals(options.Palette, Palette.Variables) ? Palette.Light : options.Palette;
        return SvgWriter.Write(sheet, palette, options.File, figure.Description, options.Id, attributes);
    }

    /// <summary>The sheet with blank margins round it.</summary>
    internal static Sheet Margins(Sheet sheet, double margin)
    {
        Shape[] moved = [.. sheet.Shapes.Select(s => Moved(s, margin))];
        return new(sheet.Width + (2 * margin), sheet.Height + (2 * margin), moved);
    }

    private static Shape Moved(Shape shape, double by)
    {
        Place At(Place p) => new(p.X + by, p.Y + by);
        return shape switch
        {
            Shape.Path path => path with { Places = [.. path.Places.Select(At)] },
            Shape.Circle circle => circle with { Centre = At(circle.Centre) },
            Shape.Text text => text with { Baseline = At(text.Baseline) },
            Shape.Clip clip => clip with { X = clip.X + by, Y = clip.Y + by, Inside = [.. clip.Inside.Select(s => Moved(s, by))] },
            Shape.Named named => named with { Inside = [.. named.Inside.Select(s => Moved(s, by))] },
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }
}

/// <summary>Writes a figure as a vector PDF page of its own.</summary>
public static class FigurePdf
{
    private const double PointsPerPx = 0.75;

    /// <summary>The PDF file.</summary>
    public static byte[] Write(Figure figure)
    {
        Sheet sheet = FigureSvg.Margins(FigureLayout.Lay(figure, new(true, true)), 28);
        using PdfDocument document = new();
        document.Info.Title = figure.Title;
        document.Info.Creator = "Meltwise";
        PdfPage page = document.AddPage();
        page.Width = XUnit.FromPoint(sheet.Width * PointsPerPx);
        page.Height = XUnit.FromPoint(sheet.Height * PointsPerPx);
        _ = PdfFonts.Of(TypeStyle.Axis, PointsPerPx);
        using (XGraphics graphics = XGraphics.FromPdfPage(page))
            PdfPainter.Draw(graphics, sheet, Palette.Print, 0, 0, PointsPerPx);
        using MemoryStream file = new();
        document.Save(file, false);
        return file.ToArray();
    }
}

/// <summary>Writes a figure as a PNG picture with title and caption.</summary>
public static class FigurePng
{
    /// <summary>Width of a slide, px.</summary>
    public const int SlideWidth = 1920;

    /// <summary>The PNG file.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="widthPx">Width, px.</param>
    /// <param name="dark">On dark ground.</param>
    public static byte[] Write(Figure figure, int widthPx = SlideWidth, bool dark = false) =>
        PngPainter.Draw(FigureSvg.Margins(FigureLayout.Lay(figure, new(true, true)), 28), dark ? Palette.Dark : Palette.Light, widthPx);
}

/// <summary>Writes the data of a figure as a table file.</summary>
public static class FigureCsv
{
    /// <summary>CSV with a heading, RFC 4180 quoting, and text cells that a spreadsheet would run as a formula made harmless by a leading apostrophe.</summary>
    public static string Write(FigureData data)
    {
        StringBuilder csv = new();
        csv.AppendJoin(',', data.Columns.Select(Tables.CsvCell.Write)).Append("\r\n");
        foreach (IReadOnlyList<string> row in data.Rows)
            csv.AppendJoin(',', row.Select(Tables.CsvCell.Write)).Append("\r\n");
        return csv.ToString();
    }
}

/// <summary>Writes a whole <c>figure</c> element: title, drawing, line for what is under the pointer, caption, table, what to take along.</summary>
public static class FigureHtml
{
    /// <summary>The HTML.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="options">Options of the drawing.</param>
    /// <param name="files">Address of the files without extension (<c>.svg</c>, <c>.png</c>, <c>.csv</c> are added), or null in a report.</param>
    public static string Write(Figure figure, FigureSvgOptions options, string? files = null)
    {
        StringBuilder html = new();
        string E(string text) => SvgWriter.Escape(text);
        html.Append("<figure class=\"figure\">\n<h3>").Append(E(figure.Title)).Append("</h3>\n");
        html.Append("<div class=\"figure-drawing\">").Append(FigureSvg.Write(figure, options)).Append("</div>\n");
        if (files is not null)
            html.Append("<p class=\"figure-says\" aria-live=\"polite\"></p>\n");
        html.Append("<figcaption>");
        if (figure.CaptionLead.Length > 0)
            html.Append("<b>").Append(E(figure.CaptionLead)).Append("</b> ");
        html.Append(E(figure.Caption));
        foreach (string source in figure.Sources)
            html.Append("<br>").Append(E(source));
        html.Append("</figcaption>\n");
        if (files is not null)
            html.Append(CultureInfo.InvariantCulture, $"<p class=\"figure-take\"><a href=\"{E(files)}.svg\" data-copy=\"svg\">Copy as SVG</a>, <a href=\"{E(files)}.png\" data-copy=\"png\">as PNG</a>, <a href=\"{E(files)}.csv\" data-copy=\"data\">as data</a></p>\n");
        if (figure.Data.Rows.Count > 0)
            Table(html, figure.Data);
        return html.Append("</figure>\n").ToString();
    }

    private static void Table(StringBuilder html, FigureData data)
    {
        html.Append("<details class=\"figure-table\"><summary>The same as a table</summary><table><thead><tr>");
        foreach (string column in data.Columns)
            html.Append("<th scope=\"col\">").Append(SvgWriter.Escape(column)).Append("</th>");
        html.Append("</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in data.Rows)
        {
            html.Append("<tr>");
            foreach (string cell in row)
                html.Append("<td>").Append(SvgWriter.Escape(cell)).Append("</td>");
            html.Append("</tr>");
        }
        html.Append("</tbody></table></details>\n");
    }
}
