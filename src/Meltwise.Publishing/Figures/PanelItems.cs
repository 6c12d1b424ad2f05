using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Figures;

/// <summary>Draws the items of a panel in their order: ground, lines, marks, labels.</summary>
internal sealed class PanelItems(PanelLayout layout, Panel panel)
{
    private static readonly Pen s_limit = new(Ink.Rule, 1.25);
    private static readonly Pen s_unity = new(Ink.Main, 1, [1.5, 3]);
    private static readonly Pen s_edge = new(Ink.Rule, 1, [5, 3]);
    private static readonly IReadOnlyList<KeyValuePair<string, string>> s_none = [];

    /// <summary>Shades, bands and the grid.</summary>
    public IEnumerable<Shape> Ground()
    {
        List<Shape> shades = [];
        foreach (PanelItem item in panel.Items)
        {
            if (item is PanelItem.MarginShade margin)
                shades.Add(Shade(margin));
            else if (item is PanelItem.Band band)
                shades.AddRange(Bands(band));
        }
        yield return new Shape.Clip(layout.Left, layout.Top, layout.PlotWidth, layout.Height, shades);
        foreach (Shape line in layout.Grid())
            yield return line;
        foreach (PanelItem.MarginShade margin in panel.Items.OfType<PanelItem.MarginShade>())
        {
            foreach (Shape line in Limits(margin))
                yield return line;
        }
    }

    /// <summary>Lines, bars and intervals.</summary>
    public IEnumerable<Shape> Lines()
    {
        foreach (PanelItem item in panel.Items)
        {
            IEnumerable<Shape> drawn = item switch
            {
                PanelItem.Line line => [new Shape.Path([.. line.Points.Select(p => layout.At(p.X, p.Y))], false, null, PenOf(line.Role))],
                PanelItem.Bar bar => Bars(bar),
                PanelItem.Interval interval => Intervals(interval),
                _ => [],
            };
            foreach (Shape shape in drawn)
                yield return shape;
        }
    }

    /// <summary>Marks inside the plot area; those a zoom leaves outside are not drawn.</summary>
    public IEnumerable<Shape> Marks()
    {
        foreach (PanelItem.Mark mark in panel.Items.OfType<PanelItem.Mark>())
        {
            if (!Inside(mark.X, mark.Y))
                continue;
            IReadOnlyList<Shape> shapes = [.. Markings.Mark(layout.At(mark.X, mark.Y), mark.Shape, mark.Size, mark.State, mark.Values)];
            if (mark.Name is null)
            {
                foreach (Shape shape in shapes)
                    yield return shape;
                continue;
            }
            Place at = layout.At(mark.X, mark.Y);
            yield return new Shape.Named(shapes, mark.Name, mark.Detail, mark.Link, [new("cx", SvgWriter.N(at.X)), new("cy", SvgWriter.N(at.Y))]);
        }
    }

    /// <summary>Labels in place, with leaders.</summary>
    public IEnumerable<Shape> Labels()
    {
        LabelPlacing placing = new(layout, [.. panel.Items.OfType<PanelItem.Mark>().Where(m => Inside(m.X, m.Y)).Select(m => layout.At(m.X, m.Y)), .. panel.Items.OfType<PanelItem.Line>().SelectMany(OnLine)]);
        foreach (PanelItem.NamedPlace label in panel.Items.OfType<PanelItem.NamedPlace>())
        {
            if (!Inside(label.X, label.Y))
                continue;
            foreach (Shape shape in placing.Draw(label))
                yield return shape;
        }
    }

    private IEnumerable<Place> OnLine(PanelItem.Line line)
    {
        const double Every = 9;
        for (int i = 1; i < line.Points.Count; i++)
        {
            Place a = layout.At(line.Points[i - 1].X, line.Points[i - 1].Y), b = layout.At(line.Points[i].X, line.Points[i].Y);
            int steps = (int)Math.Min(400, Math.Ceiling((Math.Abs(a.X - b.X) + Math.Abs(a.Y - b.Y)) / Every));
            for (int k = 1; k <= steps; k++)
                yield return new(a.X + ((b.X - a.X) * k / steps), a.Y + ((b.Y - a.Y) * k / steps));
        }
    }

    private bool Inside(double x, double y) => panel.X.Fraction(x) is >= -0.02 and <= 1.02 && panel.Y.Fraction(y) is >= -0.02 and <= 1.02;

    private Shape Shade(PanelItem.MarginShade margin)
    {
        (double a, double b) = margin.Along == Along.X ? (layout.AtX(margin.Low), layout.AtX(margin.High)) : (layout.AtY(margin.High), layout.AtY(margin.Low));
        return margin.Along == Along.X ? Shape.Box(a, layout.Top, b - a, layout.Height, Ink.Shade) : Shape.Box(layout.Left, a, layout.PlotWidth, b - a, Ink.LightShade);
    }

    private IEnumerable<Shape> Limits(PanelItem.MarginShade margin)
    {
        bool across = margin.Along == Along.X;
        foreach ((double value, Pen pen) in new[] { (margin.Low, s_limit), (margin.High, s_limit), (margin.Null ?? double.NaN, s_unity) })
        {
            double fraction = across ? panel.X.Fraction(value) : panel.Y.Fraction(value);
            if (!(fraction is >= 0 and <= 1))
                continue;
            yield return across
                ? Shape.Line(layout.AtX(value), layout.Top - (margin.Label is null ? 0 : 6), layout.AtX(value), layout.Top + layout.Height, pen)
                : Shape.Line(layout.Left, layout.AtY(value), layout.Left + layout.PlotWidth, layout.AtY(value), pen);
        }
        if (margin.Label is null)
            yield break;
        double middle = across ? (layout.AtX(margin.Low) + layout.AtX(margin.High)) / 2 : 0;
        double half = TypeMeasure.Width(margin.Label, TypeStyle.Strong) / 2;
        middle = Math.Clamp(middle, layout.Left + half, Math.Max(layout.Left + half, layout.Left + layout.PlotWidth - half));
        yield return across
            ? new Shape.Text(new(middle, layout.Top - 12), margin.Label, TypeStyle.Strong, Anchor.Middle)
            : new Shape.Text(new(layout.Left + layout.PlotWidth - 8, layout.AtY(margin.High) + 17), margin.Label, TypeStyle.Axis, Anchor.End);
    }

    private IEnumerable<Shape> Bands(PanelItem.Band band)
    {
        Place[] low = [.. band.Points.Select(p => layout.At(p.X, p.Low))];
        Place[] high = [.. band.Points.Select(p => layout.At(p.X, p.High))];
        yield return new Shape.Path([.. low, .. high.Reverse()], true, band.Dark ? Ink.Shade : Ink.LightShade, null);
        if (!band.DashedEdges)
            yield break;
        yield return new Shape.Path(low, false, null, s_edge);
        yield return new Shape.Path(high, false, null, s_edge);
    }

    private IEnumerable<Shape> Bars(PanelItem.Bar bar)
    {
        Place a = layout.At(bar.X0, bar.Y0), b = layout.At(bar.X1, bar.Y1);
        double x = Math.Min(a.X, b.X), y = Math.Min(a.Y, b.Y), w = Math.Abs(a.X - b.X), h = Math.Abs(a.Y - b.Y);
        Pen outline = new(Ink.Main, 1.2);
        List<Shape> shapes = bar.Fill switch
        {
            BarFill.Solid => [Shape.Box(x, y, w, h, Ink.Main)],
            BarFill.Hot => [Shape.Box(x, y, w, h, Ink.Heat)],
            BarFill.Grey => [Shape.Box(x, y, w, h, Ink.Past)],
            BarFill.Outline => [Shape.Box(x, y, w, h, Ink.Paper, outline)],
            _ => [Shape.Box(x, y, w, h, Ink.Paper, outline), new Shape.Clip(x, y, w, h, [.. Hatch(x, y, w, h)])],
        };
        if (bar.Name is null)
            return shapes;
        return [new Shape.Named(shapes, bar.Name, bar.Detail, null, [new("cx", SvgWriter.N(x + (w / 2))), new("cy", SvgWriter.N(y + (h / 2)))])];
    }

    private static IEnumerable<Shape> Hatch(double x, double y, double w, double h)
    {
        for (double at = x - h; at < x + w; at += 5)
            yield return Shape.Line(at, y + h, at + h, y, new(Ink.Main, 1));
    }

    private IEnumerable<Shape> Intervals(PanelItem.Interval i)
    {
        Ink ink = i.Candidate ? Ink.Heat : Ink.Main;
        Pen thin = new(ink, 1.1), thick = new(ink, 3.2);
        Place Point(double value, double off) => i.Along == Along.X
            ? new(layout.AtX(value), layout.AtY(i.At) + off)
            : new(layout.AtX(i.At) + off, layout.AtY(value));
        yield return new Shape.Path([Point(i.WideLow, 0), Point(i.WideHigh, 0)], false, null, thin);
        foreach (double end in (double[])[i.WideLow, i.WideHigh])
            yield return new Shape.Path([Point(end, -5), Point(end, 5)], false, null, thin);
        if (i.NarrowLow is { } low && i.NarrowHigh is { } high)
            yield return new Shape.Path([Point(low, 0), Point(high, 0)], false, null, thick);
    }

    private static Pen PenOf(LineRole role) => role switch
    {
        LineRole.Trend => new(Ink.Main, 1.4),
        LineRole.Dashed => new(Ink.Main, 1.3, [7, 3]),
        LineRole.Dotted => new(Ink.Main, 1.6, [1.5, 3]),
        LineRole.Hot => new(Ink.Heat, 1.6),
        LineRole.Heavy => new(Ink.Main, 2),
        LineRole.Hair => new(Ink.Hair, 1),
        _ => new(Ink.Rule, 1),
    };
}
