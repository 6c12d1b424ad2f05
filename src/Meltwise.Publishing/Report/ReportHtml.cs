using System.Globalization;
using System.Text;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Report;

/// <summary>Writes a document as one HTML file that needs nothing beside it: fonts, style and figures are inside, no script, light and dark, print style.</summary>
public static class ReportHtml
{
    private const int LongTitle = 70;
    private const double Column = 400;
    private static readonly string s_style = Style();

    /// <summary>The HTML file.</summary>
    /// <exception cref="ReportFaultException">A private name is left in a version that must hold none.</exception>
    public static string Write(ReportDocument document)
    {
        PrivateNames.Check(document);
        return $"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="generator" content="Meltwise">
            <title>{E(document.Title)}</title>
            <style>
            {FontFile.Css(inside: true)}{s_style}</style>
            </head>
            <body>
            {Body(document)}
            </body>
            </html>
            """;
    }

    /// <summary>The content without head, style and fonts.</summary>
    internal static string Body(ReportDocument document)
    {
        StringBuilder html = new();
        html.Append("<main class=\"sheet\">\n");
        bool open = false;
        int figure = 0;
        foreach (Block block in document.Blocks)
        {
            if (block is Block.Part part)
            {
                if (open)
                    html.Append("</div></section>\n");
                open = true;
                html.Append(CultureInfo.InvariantCulture, $"<section class=\"part\" id=\"part-{part.Number}\"><div class=\"side\"><span class=\"no\">{part.Number}</span><h2>{E(part.Text)}</h2>{(part.State is null ? "" : $"<p class=\"state\">{(part.Locked ? Wedge(true) : "")}{E(part.State)}</p>")}</div><div class=\"main\">\n");
                continue;
            }
            if (!open && block is Block.Title)
            {
                html.Append("<section class=\"part opening\"><div class=\"side\"></div><div class=\"main\">\n");
                open = true;
            }
            Add(html, block, ref figure);
        }
        if (open)
            html.Append("</div></section>\n");
        return html.Append(CultureInfo.InvariantCulture, $"</main>\n<footer class=\"foot\">{E(document.Foot)}</footer>").ToString();
    }

    private static void Add(StringBuilder html, Block block, ref int figure)
    {
        switch (block)
        {
            case Block.Title t: html.Append("<p class=\"note\">").AppendJoin("<br>", t.Above.Select(E)).Append(t.Text.Length > LongTitle ? "</p><h1 class=\"long\">" : "</p><h1>").Append(E(t.Text)).Append("</h1>\n"); break;
            case Block.Heading h: html.Append("<h3>").Append(E(h.Text)).Append("</h3>\n"); break;
            case Block.Paragraph p: html.Append(CultureInfo.InvariantCulture, $"<p class=\"{p.Kind.ToString().ToLowerInvariant()}\">{R(p.Text)}</p>\n"); break;
            case Block.OutcomeHead o: html.Append(CultureInfo.InvariantCulture, $"<p class=\"note\">{E(o.Under)}</p><p class=\"outcome\"><b>{E(o.Word)}</b> {E(o.Qualifier)}</p>\n"); break;
            case Block.RuleFrame f: html.Append(CultureInfo.InvariantCulture, $"<div class=\"{(f.Locked ? "forme" : "draft")}\"><p class=\"legend\">{Wedge(f.Locked)}{E(f.Legend)}</p><p class=\"question\">{E(f.Question)}</p>{Terms(f.Terms)}</div>\n"); break;
            case Block.TermList t: html.Append(Terms(t.Terms)).Append('\n'); break;
            case Block.Table t: Table(html, t); break;
            case Block.Drawn d: html.Append(FigureHtml.Write(d.ShowTitle ? d.Figure : d.Figure with { Title = "" }, new() { Id = $"figure-{++figure}" })); break;
            case Block.Micrographs m: Micrographs(html, m); break;
            case Block.Claims c: html.Append("<div class=\"claims\">").Append(List("May be claimed", c.May, "may")).Append(List("May not be claimed", c.MayNot, "not")).Append("</div>\n"); break;
            case Block.Items i: html.Append("<ul class=\"items\">").AppendJoin("", i.Lines.Select(l => $"<li>{R(l)}</li>")).Append("</ul>\n"); break;
            case Block.Caution c: html.Append(CultureInfo.InvariantCulture, $"<p class=\"caution\"><b>{E(c.Step)}.</b> {E(c.Text)} ({E(c.WrittenIn)})</p>\n"); break;
            case Block.NewPage: html.Append("<div class=\"newpage\"></div>\n"); break;
        }
    }

    private static void Table(StringBuilder html, Block.Table table)
    {
        html.Append("<table>");
        if (table.Caption is { } caption)
            html.Append("<caption>").Append(R(caption)).Append("</caption>");
        html.Append("<thead><tr>");
        foreach (Column column in table.Columns)
            html.Append(CultureInfo.InvariantCulture, $"<th scope=\"col\"{(column.Right ? " class=\"r\"" : "")}>{E(column.Heading)}</th>");
        html.Append("</tr></thead><tbody>");
        int[] decimals = [.. table.Columns.Select((c, i) => c.Right ? table.Rows.Select(r => NumberColumn.BehindPoint(r[i])?.Length ?? 0).DefaultIfEmpty().Max() : 0)];
        foreach (IReadOnlyList<Rich> row in table.Rows)
        {
            html.Append("<tr>");
            for (int i = 0; i < row.Count; i++)
                html.Append(CultureInfo.InvariantCulture, $"<td{(table.Columns[i].Right ? " class=\"r\"" : "")}>{R(row[i])}{Blank(row[i], decimals[i])}</td>");
            html.Append("</tr>");
        }
        html.Append("</tbody></table>\n");
    }

    // Digits that a number of the column does not have, unseen, so that all points stand under each other.
    private static string Blank(Rich cell, int decimals) => NumberColumn.BehindPoint(cell) is { } behind && behind.Length < decimals
        ? $"<span class=\"blank\" aria-hidden=\"true\">{(behind.Length == 0 ? "." : "")}{new string('0', decimals - Math.Max(1, behind.Length))}</span>"
        : "";

    private static void Micrographs(StringBuilder html, Block.Micrographs block)
    {
        html.Append("<div class=\"micrographs\">");
        foreach (MicrographPair.Placed p in MicrographPair.Place(block.Pictures, Column))
        {
            string bar = p.Bar <= 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"<svg class=\"bar\" viewBox=\"0 0 {Column} 22\" role=\"img\" aria-label=\"scale bar {p.BarLabel}\"><path d=\"M0 12H{p.Bar:0.##}\"/><text x=\"{p.Bar + 8:0.##}\" y=\"17\">{E(p.BarLabel)}</text></svg>");
            html.Append(CultureInfo.InvariantCulture, $"<figure><img src=\"data:image/png;base64,{Convert.ToBase64String(p.Picture.Png)}\" width=\"{p.Picture.WidthPx}\" height=\"{p.Picture.HeightPx}\" style=\"width:{100 * p.Width / Column:0.##}%\" alt=\"{E(p.Caption.PlainText)}\">{bar}<figcaption>{R(p.Caption)}</figcaption></figure>");
        }
        html.Append("</div>\n");
    }

    private static string Terms(IReadOnlyList<Term> terms) => $"<dl class=\"terms\">{string.Concat(terms.Select(t => $"<dt>{E(t.Name)}</dt><dd>{R(t.Text)}</dd>"))}</dl>";

    private static string List(string heading, IReadOnlyList<string> items, string kind) =>
        $"<div class=\"{kind}\"><h3>{heading}</h3><ul>{string.Concat(items.Select(i => $"<li>{E(i)}</li>"))}</ul></div>";

    private static string R(Rich text) => string.Concat(text.Runs.Select(r => r.Style switch
    {
        RunStyle.Strong => $"<b>{E(r.Text)}</b>",
        RunStyle.Italic => $"<i>{E(r.Text)}</i>",
        RunStyle.Struck => $"<del>{E(r.Text)}</del>",
        _ => E(r.Text),
    }));

    private static string Wedge(bool locked) => locked
        ? "<svg class=\"wedge\" viewBox=\"0 0 22 10\" aria-hidden=\"true\"><path d=\"M0 10L21 10L21 .9Z\"/><path d=\"M0 8.6L0 0L20 0Z\"/></svg>"
        : "<svg class=\"wedge open\" viewBox=\"0 0 22 10\" aria-hidden=\"true\"><path d=\"M0 9.5L9 9.5L9 2Z\"/><path d=\"M13 .5L22 .5L13 8Z\"/></svg>";

    private static string E(string text) => SvgWriter.Escape(text);

    private static string Style()
    {
        using Stream stream = typeof(ReportHtml).Assembly.GetManifestResourceStream("report.css") ?? throw new InvalidOperationException("The style of the report is missing from the assembly.");
        using StreamReader reader = new(stream);
        return reader.ReadToEnd() + FigureScript.Css;
    }
}
