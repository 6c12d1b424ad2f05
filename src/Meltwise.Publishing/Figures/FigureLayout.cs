using System.Globalization;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Figures;

/// <summary>What of a figure is laid out.</summary>
/// <param name="Title">Draw the title (slides, files); a page sets it as text.</param>
/// <param name="Caption">Draw caption and sources (files).</param>
/// <param name="Views">Axis limits by panel, where a reader has zoomed.</param>
public sealed record FigureParts(bool Title = false, bool Caption = false, IReadOnlyDictionary<int, AxisView>? Views = null);

/// <summary>Axis limits a reader has dragged.</summary>
public readonly record struct AxisView(double XMin, double XMax, double YMin, double YMax);

/// <summary>Turns a figure into drawing primitives. The only place that knows where things stand.</summary>
public static class FigureLayout
{
    private static readonly TypeStyle s_title = new(Face.Text, 600, false, 18, Ink.Main);
    private static readonly TypeStyle s_caption = new(Face.Label, 500, false, 14, Ink.Second);
    private const double TitleLine = 25, CaptionLine = 20;

    /// <summary>Lays the figure out.</summary>
    public static Sheet Lay(Figure figure, FigureParts? parts = null)
    {
        parts ??= new();
        List<Shape> shapes = [];
        double y = 0;
        if (parts.Title)
            y = Paragraph(shapes, figure.Title, s_title, 0, figure.Width, y, TitleLine) + 8;
        if (figure.Key.Count > 0)
            y = Key(shapes, figure, y) + 6;
        for (int i = 0; i < figure.Panels.Count; i++)
        {
            Panel panel = figure.Panels[i];
            if (parts.Views?.TryGetValue(i, out AxisView view) == true)
                panel = panel with { X = panel.X with { Min = view.XMin, Max = view.XMax, Ticks = null }, Y = panel.Y.Scale == AxisScale.Rows ? panel.Y : panel.Y with { Min = view.YMin, Max = view.YMax, Ticks = null } };
            PanelLayout laid = new(panel, i, figure.Width, y + panel.SpaceAbove);
            shapes.AddRange(laid.Draw());
            y = laid.Bottom;
        }
        if (parts.Caption)
            y = CaptionLines(shapes, figure, y + 14);
        return new(figure.Width, Math.Ceiling(y + 4), shapes);
    }

    /// <summary>Breaks text into lines no wider than a width.</summary>
    public static IReadOnlyList<string> Break(string text, TypeStyle style, double width, double firstIndent = 0)
    {
        List<string> lines = [];
        string line = "";
        double room = width - firstIndent;
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && TypeMeasure.Width(longer, style) > room)
            {
                lines.Add(line);
                (line, room) = (word, width);
            }
            else
            {
                line = longer;
            }
        }
        lines.Add(line);
        return lines;
    }

    private static double Paragraph(List<Shape> shapes, string text, TypeStyle style, double x, double width, double y, double lineHeight, double indent = 0)
    {
        foreach (string line in Break(text, style, width, indent))
        {
            y += lineHeight;
            shapes.Add(new Shape.Text(new(x + indent, y - (lineHeight - style.Size) + 0.5), line, style));
            indent = 0;
        }
        return y;
    }

    private static double CaptionLines(List<Shape> shapes, Figure figure, double y)
    {
        double indent = 0, width = Math.Min(figure.Width, 52 * s_caption.Size);
        if (figure.CaptionLead.Length > 0)
        {
            TypeStyle strong = s_caption with { Weight = 650, Ink = Ink.Main };
            shapes.Add(new Shape.Text(new(0, y + s_caption.Size + 0.5), figure.CaptionLead, strong));
            indent = TypeMeasure.Width(figure.CaptionLead + " ", strong);
        }
        if (figure.Caption.Length > 0 || indent > 0)
            y = Paragraph(shapes, figure.Caption, s_caption, 0, width, y, CaptionLine, indent);
        foreach (string source in figure.Sources)
            y = Paragraph(shapes, source, s_caption with { Ink = Ink.Third }, 0, width, y, CaptionLine);
        return y;
    }

    private static double Key(List<Shape> shapes, Figure figure, double y)
    {
        double x = 0;
        y += 16;
        foreach (KeyEntry entry in figure.Key)
        {
            double width = TypeMeasure.Width(entry.Text, s_caption) + (entry.Shape is null ? 0 : 26);
            if (x > 0 && x + width > figure.Width)
                (x, y) = (0, y + 22);
            double text = x;
            if (entry.Shape is { } shape)
            {
                double centre = x + 8;
                shapes.AddRange(Markings.Mark(new(centre, y - 4.6), shape, 0.95, entry.State, Along.X));
                text = x + (entry.State == MarkState.None ? 20 : 26);
            }
            shapes.Add(new Shape.Text(new(text, y), entry.Text, s_caption));
            x = text + TypeMeasure.Width(entry.Text, s_caption) + 24;
        }
        return y + 6;
    }

    /// <summary>A number for an attribute, exact.</summary>
    internal static string Exact(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
