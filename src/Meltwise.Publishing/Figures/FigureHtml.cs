using System.Globalization;
using System.Text;
using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Figures;

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
        html.Append("<figure class=\"figure\">\n");
        if (figure.Title.Length > 0)
            html.Append("<h3>").Append(E(figure.Title)).Append("</h3>\n");
        html.Append("<div class=\"figure-drawing\">").Append(FigureSvg.Write(figure, options)).Append("</div>\n");
        if (files is not null)
            html.Append("<p class=\"figure-says\" aria-live=\"polite\"></p>\n");
        html.Append("<figcaption>");
        if (figure.CaptionLead.Length > 0)
            html.Append("<b>").Append(E(figure.CaptionLead)).Append("</b> ");
        html.Append(E(figure.Caption));
        foreach (string source in figure.Sources)
            html.Append("<br>").Append(E(source));
        if (files is not null)
            html.Append(CultureInfo.InvariantCulture, $"<p class=\"figure-take\"><a href=\"{E(files)}.svg\" data-copy=\"svg\">Copy as SVG</a>, <a href=\"{E(files)}.png\" data-copy=\"png\">as PNG</a>, <a href=\"{E(files)}.csv\" data-copy=\"data\">as data</a></p>\n");
        if (figure.Data.Rows.Count > 0)
            Table(html, figure.Data);
        return html.Append("</figcaption>\n</figure>\n").ToString();
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
                html.Append("<td>").Append(SvgWriter.Escape(FiveDigits(cell))).Append("</td>");
            html.Append("</tr>");
        }
        html.Append("</tbody></table></details>\n");
    }

    // To read; the data file that can be copied keeps every digit.
    private static string FiveDigits(string cell) =>
        cell.Length > 7 && double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? number.ToString("G5", CultureInfo.InvariantCulture) : cell;
}
