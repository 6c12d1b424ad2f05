using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Figures;

/// <summary>Places one panel: text columns and tick labels in the gutters, plot area between them, axes.</summary>
internal sealed class PanelLayout
{
    private static readonly Pen s_axis = new(Ink.Rule, 1);
    private static readonly Pen s_hair = new(Ink.Hair, 1);
    private const double ColumnGap = 22, ColumnHead = 26, VerticalGap = 28, HorizontalGap = 50;

    private readonly Panel _panel;
    private readonly int _index;
    private readonly double _width;
    private readonly double _top;
    private readonly IReadOnlyList<Tick> _x, _y, _x2, _y2;

    public PanelLayout(Panel panel, int index, double width, double top)
    {
        (_panel, _index, _width) = (panel, index, width);
        double head = top + (panel.Heading is null ? 0 : 24);
        bool columnHeads = panel.Left.Concat(panel.Right).Any(c => c.Heading is not null);
        bool axisHeads = panel.Y.Scale != AxisScale.Rows && panel.Y.Title is not null;
        bool marginLabel = panel.Items.OfType<PanelItem.MarginShade>().Any(m => m.Along == Along.X && m.Label is not null);
        _top = head + (columnHeads || marginLabel ? ColumnHead : axisHeads ? 24 : 8);
        _y = AxisTicks.Choose(panel.Y, panel.Height, VerticalGap);
        _y2 = Second(panel.Y, panel.Height, VerticalGap);
        Left = panel.Left.Count > 0 ? panel.Left.Sum(c => c.Width) + ColumnGap : Gutter(_y);
        double right = panel.Right.Count > 0 ? panel.Right.Sum(c => c.Width) + ColumnGap : panel.Y.Second is null ? 8 : Gutter(_y2);
        PlotWidth = width - Left - right;
        _x = AxisTicks.Choose(panel.X, PlotWidth, HorizontalGap);
        _x2 = Second(panel.X, PlotWidth, HorizontalGap);
    }

    public double Left { get; }

    public double PlotWidth { get; }

    public double Top => _top;

    public double Height => _panel.Height;

    public double Bottom => _top + _panel.Height + (_x.Count == 0 ? 4 : 24) + (_panel.X.Second is null ? 0 : 27) + (_panel.X.Title is null ? 0 : 22);

    public double AtX(double value) => Left + (Clamp(_panel.X.Fraction(value)) * PlotWidth);

    public double AtY(double value)
    {
        double fraction = Clamp(_panel.Y.Fraction(value));
        return _panel.Y.Scale == AxisScale.Rows ? _top + (fraction * Height) : _top + ((1 - fraction) * Height);
    }

    public Place At(double x, double y) => new(AtX(x), AtY(y));

    public IEnumerable<Shape> Draw()
    {
        if (_panel.Heading is { } heading)
            yield return new Shape.Text(new(0, _top - (_panel.Left.Count + _panel.Right.Count > 0 ? ColumnHead : 8) - 8), heading, new(Face.Text, 600, false, 16.5, Ink.Main));
        PanelItems items = new(this, _panel);
        foreach (Shape shape in items.Ground())
            yield return shape;
        foreach (Shape shape in Rules())
            yield return shape;
        foreach (Shape shape in TextColumns())
            yield return shape;
        foreach (Shape shape in AxisX().Concat(AxisY()))
            yield return shape;
        yield return new Shape.Named(
            [new Shape.Clip(Left - 9, _top - 9, PlotWidth + 18, Height + 18, [.. items.Lines()]), .. items.Marks(), .. items.Labels()], null, null, null, Facts());
    }

    private static double Clamp(double fraction) => Math.Clamp(fraction, -3, 4);

    private static double Gutter(IReadOnlyList<Tick> ticks) =>
        ticks.Count == 0 ? 8 : Math.Ceiling(ticks.Max(t => TypeMeasure.Width(t.Text, TypeStyle.Axis)) + 16);

    private static IReadOnlyList<Tick> Second(Axis axis, double length, double gap)
    {
        if (axis.Second is not { } second)
            return [];
        Axis other = axis with { Min = (axis.Min * second.Factor) + second.Offset, Max = (axis.Max * second.Factor) + second.Offset, Ticks = null, Second = null };
        return [.. AxisTicks.Choose(other, length, gap).Select(t => t with { Value = (t.Value - second.Offset) / second.Factor })];
    }

    private IEnumerable<Shape> Rules()
    {
        foreach (double row in _panel.RowRules)
        {
            double y = AtY(row);
            if (_panel.Left.Count > 0)
                yield return Shape.Line(0, y, Left - ColumnGap, y, s_hair);
            yield return Shape.Line(Left, y, Left + PlotWidth, y, s_hair);
            if (_panel.Right.Count > 0)
                yield return Shape.Line(Left + PlotWidth + ColumnGap, y, _width, y, s_hair);
        }
    }

    private IEnumerable<Shape> TextColumns()
    {
        foreach ((double start, IReadOnlyList<TextColumn> columns) in new[] { (0.0, _panel.Left), (Left + PlotWidth + ColumnGap, _panel.Right) })
        {
            double x = start;
            foreach (TextColumn column in columns)
            {
                if (column.Heading is { } heading)
                    yield return new Shape.Text(new(column.Right ? x + column.Width - 10 : x, _top - 9), heading, TypeStyle.Axis with { Weight = 650 }, column.Right ? Anchor.End : Anchor.Start);
                foreach (Shape shape in column.Cells.SelectMany(c => CellText.Draw(c, x, column, AtY(c.Row))))
                    yield return shape;
                x += column.Width;
            }
        }
    }

    private IEnumerable<Shape> AxisX()
    {
        double y = _top + Height;
        if (_x.Count > 0 || _panel.X.Title is not null)
            yield return Shape.Line(Left, y, Left + PlotWidth, y, s_axis);
        foreach (Shape shape in TickRow(_x, y, TypeStyle.Axis, _panel.X.Unit))
            yield return shape;
        y += _x.Count == 0 ? 0 : 24;
        if (_panel.X.Second is { } second)
        {
            yield return Shape.Line(Left, y + 3, Left + PlotWidth, y + 3, s_hair);
            foreach (Shape shape in TickRow(_x2, y + 3, TypeStyle.Quiet, second.Unit))
                yield return shape;
            y += 27;
        }
        if (_panel.X.Title is { } title)
            yield return new Shape.Text(new(Left + (PlotWidth / 2), y + 15), title, TypeStyle.Axis, Anchor.Middle);
    }

    private IEnumerable<Shape> TickRow(IReadOnlyList<Tick> ticks, double y, TypeStyle style, string? unit)
    {
        for (int i = 0; i < ticks.Count; i++)
        {
            double x = AtX(ticks[i].Value);
            bool last = i == ticks.Count - 1 && unit is not null;
            yield return Shape.Line(x, y, x, y + 5, s_axis);
            if (!last)
            {
                yield return new Shape.Text(new(x, y + 18), ticks[i].Text, style, Anchor.Middle);
                continue;
            }
            double half = TypeMeasure.Width(ticks[i].Text, style) / 2;
            yield return new Shape.Text(new(x - half, y + 18), ticks[i].Text + " " + unit, style);
        }
    }

    private IEnumerable<Shape> AxisY()
    {
        if (_panel.Y.Scale == AxisScale.Rows)
            yield break;
        if (_panel.Y.Title is { } title)
            yield return new Shape.Text(new(0, _top - 12), title, TypeStyle.Strong);
        if (_panel.Y.Second is { } unit)
            yield return new Shape.Text(new(_width, _top - 12), unit.Unit, TypeStyle.Quiet with { Weight = 650 }, Anchor.End);
        yield return Shape.Line(Left, _top, Left, _top + Height, s_axis);
        foreach (Tick tick in _y)
            yield return new Shape.Text(new(Left - 9, AtY(tick.Value) + 4.5), tick.Text, TypeStyle.Axis, Anchor.End);
        if (_panel.Y.Second is null)
            yield break;
        yield return Shape.Line(Left + PlotWidth, _top, Left + PlotWidth, _top + Height, s_axis);
        foreach (Tick tick in _y2)
        {
            double y = AtY(tick.Value);
            yield return Shape.Line(Left + PlotWidth, y, Left + PlotWidth + 5, y, s_axis);
            yield return new Shape.Text(new(Left + PlotWidth + 9, y + 4.5), tick.Text, TypeStyle.Quiet);
        }
    }

    /// <summary>Grid lines, drawn over shades and under everything else.</summary>
    public IEnumerable<Shape> Grid()
    {
        if (_panel.X.Grid)
        {
            foreach (Tick tick in _x)
                yield return Shape.Line(AtX(tick.Value), _top, AtX(tick.Value), _top + Height, s_hair);
        }
        if (_panel.Y.Grid && _panel.Y.Scale != AxisScale.Rows)
        {
            foreach (Tick tick in _y)
                yield return Shape.Line(Left, AtY(tick.Value), Left + PlotWidth, AtY(tick.Value), s_hair);
        }
    }

    private IReadOnlyList<KeyValuePair<string, string>> Facts()
    {
        KeyValuePair<string, string> Fact(string key, string value) => new(key, value);
        return
        [
            Fact("panel", FigureLayout.Exact(_index)), Fact("left", SvgWriter.N(Left)), Fact("top", SvgWriter.N(_top)), Fact("width", SvgWriter.N(PlotWidth)), Fact("height", SvgWriter.N(Height)),
            Fact("x-scale", _panel.X.Scale.ToString()), Fact("x-min", FigureLayout.Exact(_panel.X.Min)), Fact("x-max", FigureLayout.Exact(_panel.X.Max)),
            Fact("y-scale", _panel.Y.Scale.ToString()), Fact("y-min", FigureLayout.Exact(_panel.Y.Min)), Fact("y-max", FigureLayout.Exact(_panel.Y.Max)),
        ];
    }
}
