using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Figures;

/// <summary>Sets a cell of text beside a plot.</summary>
internal static class CellText
{
    /// <summary>Style and line height of a role.</summary>
    public static (TypeStyle Style, double Line) Style(TextRole role) => role switch
    {
        TextRole.Quiet => (TypeStyle.Quiet, 19),
        TextRole.Strong => (TypeStyle.Strong, 19),
        TextRole.Hot => (TypeStyle.Hot, 19),
        TextRole.Table => (TypeStyle.Table, 22),
        TextRole.TableStrong => (TypeStyle.Table with { Weight = 600 }, 22),
        TextRole.Outcome => (new(Face.Text, 600, false, 18.5, Ink.Main), 24),
        TextRole.Qualifier => (new(Face.Text, 400, true, 16.5, Ink.Main), 21),
        TextRole.Raised => (TypeStyle.Axis with { Size = 10.5, Ink = Ink.Main }, 19),
        _ => (TypeStyle.Axis, 19),
    };

    /// <summary>Shapes of a cell, centred on its row.</summary>
    public static IEnumerable<Shape> Draw(TextCell cell, double x, TextColumn column, double middle)
    {
        double indent = 0;
        if (cell.Sign is { } sign)
        {
            indent = 46;
            foreach (Shape shape in Markings.Sign(x + 5, middle - 17, sign, cell.Above))
                yield return shape;
        }
        if (cell.Mark is { } mark)
        {
            indent = 20;
            foreach (Shape shape in Markings.Mark(new(x + 8, middle), mark, 0.95, MarkState.None, Along.X))
                yield return shape;
        }
        double y = middle - (cell.Lines.Sum(LineHeight) / 2);
        foreach (IReadOnlyList<TextRun> line in cell.Lines)
        {
            double height = LineHeight(line);
            double width = line.Sum(r => TypeMeasure.Width(r.Text, Style(r.Role).Style));
            double at = column.Right ? x + column.Width - 10 - width : x + indent;
            foreach (TextRun run in line)
            {
                TypeStyle style = Style(run.Role).Style;
                // SVG drops blanks at the start of a text, so they are set as distance.
                string text = run.Text.TrimStart(' ');
                double blank = TypeMeasure.Width(run.Text[..^text.Length], style);
                yield return new Shape.Text(new(at + blank, y + (height * 0.5) + (style.Size * 0.34) - (run.Role == TextRole.Raised ? 5 : 0)), text, style);
                at += TypeMeasure.Width(run.Text, style);
            }
            y += height;
        }
    }

    private static double LineHeight(IReadOnlyList<TextRun> line) => line.Count == 0 ? 0 : line.Max(r => Style(r.Role).Line);
}
