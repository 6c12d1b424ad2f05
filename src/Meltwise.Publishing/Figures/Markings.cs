using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Figures;

/// <summary>Draws marks, states and signs of outcome.</summary>
public static class Markings
{
    private static readonly Pen s_ring = new(Ink.Main, 1.9);
    private static readonly Pen s_paper = new(Ink.Paper, 1);
    private static readonly Pen s_open = new(Ink.Heat, 1.6);
    private static readonly Pen s_plus = new(Ink.Past, 1.2);
    private static readonly Pen s_house = new(Ink.Rule, 1.4);
    private static readonly Pen s_suspect = new(Ink.Main, 1.3, [2, 2.4]);
    private static readonly Pen s_stroke = new(Ink.Main, 1.5);

    /// <summary>Shapes of a mark at a place.</summary>
    public static IEnumerable<Shape> Mark(Place at, MarkShape shape, double size, MarkState state, Along values)
    {
        double r = Radius(shape) * size;
        if (state.HasFlag(MarkState.Doubted))
        {
            yield return Shape.Line(at.X - r, at.Y - r, at.X + r, at.Y + r, s_stroke);
            yield return Shape.Line(at.X - r, at.Y + r, at.X + r, at.Y - r, s_stroke);
            yield break;
        }
        foreach (Shape plain in Plain(at, shape, r))
            yield return plain;
        if (state.HasFlag(MarkState.Suspect))
            yield return new Shape.Circle(at, r + 5.6, null, s_suspect);
        if (state.HasFlag(MarkState.Invalid))
            yield return Shape.Line(at.X - r - 1.6, at.Y + r + 1.6, at.X + r + 1.6, at.Y - r - 1.6, s_stroke);
        if (state.HasFlag(MarkState.Excluded))
        {
            yield return Bracket(at, r, -1);
            yield return Bracket(at, r, 1);
        }
        if (state.HasFlag(MarkState.CensoredAbove) || state.HasFlag(MarkState.CensoredBelow))
            yield return Arrow(at, r, state.HasFlag(MarkState.CensoredAbove), values, shape is MarkShape.Lozenge or MarkShape.OpenLozenge ? Ink.Heat : Ink.Main);
    }

    /// <summary>Half the extent of a mark of usual size, px.</summary>
    public static double Radius(MarkShape shape) => shape switch
    {
        MarkShape.Ring => 5,
        MarkShape.Lozenge or MarkShape.OpenLozenge => 6.2,
        MarkShape.Dot => 3.6,
        MarkShape.Plus => 4,
        MarkShape.Square => 4.6,
        _ => 4.2,
    };

    /// <summary>Sign of an outcome in a square of 34 px.</summary>
    public static IEnumerable<Shape> Sign(double x, double y, OutcomeSign sign, bool above = false)
    {
        int side = above ? 1 : -1;
        Place c = new(x + 17, y + 17);
        yield return new Shape.Circle(c, 14, null, sign == OutcomeSign.Empty ? new Pen(Ink.Rule, 1.3, [3, 2.5]) : new Pen(Ink.Main, 1.6));
        switch (sign)
        {
            case OutcomeSign.Centred: yield return Lozenge(c, 6, Ink.Heat, s_paper); break;
            case OutcomeSign.OffCentre: yield return Lozenge(c with { X = c.X + (side * 4.5) }, 6, Ink.Heat, s_paper); break;
            case OutcomeSign.OnEdge: yield return Lozenge(c with { X = c.X + (side * 14) }, 6, Ink.Heat, s_paper); break;
            case OutcomeSign.Outside: yield return Lozenge(c with { X = c.X + (side * 22) }, 6, Ink.Heat, s_paper); break;
            case OutcomeSign.Wider: yield return Lozenge(c, 19.5, null, s_open); break;
        }
    }

    private static IEnumerable<Shape> Plain(Place at, MarkShape shape, double r)
    {
        switch (shape)
        {
            case MarkShape.Ring: yield return new Shape.Circle(at, r, Ink.Paper, s_ring); break;
            case MarkShape.Lozenge: yield return Lozenge(at, r, Ink.Heat, s_paper); break;
            case MarkShape.OpenLozenge: yield return Lozenge(at, r, Ink.Paper, s_open); break;
            case MarkShape.Dot: yield return new Shape.Circle(at, r, Ink.Past, new Pen(Ink.Paper, 0.8)); break;
            case MarkShape.Sealed: yield return new Shape.Circle(at, r, Ink.Main, s_paper); break;
            case MarkShape.Square: yield return Shape.Box(at.X - r, at.Y - r, 2 * r, 2 * r, Ink.Paper, s_house); break;
            case MarkShape.Plus:
                yield return Shape.Line(at.X - r, at.Y, at.X + r, at.Y, s_plus);
                yield return Shape.Line(at.X, at.Y - r, at.X, at.Y + r, s_plus);
                break;
        }
    }

    private static Shape.Path Lozenge(Place c, double r, Ink? fill, Pen pen) =>
        new([new(c.X, c.Y - r), new(c.X + r, c.Y), new(c.X, c.Y + r), new(c.X - r, c.Y)], true, fill, pen);

    private static Shape.Path Bracket(Place c, double r, int side) =>
        new([new(c.X + (side * (r + 2)), c.Y - r - 3), new(c.X + (side * (r + 5)), c.Y - r - 3), new(c.X + (side * (r + 5)), c.Y + r + 3), new(c.X + (side * (r + 2)), c.Y + r + 3)], false, null, new Pen(Ink.Main, 1.2));

    private static Shape.Path Arrow(Place c, double r, bool above, Along values, Ink ink)
    {
        (double dx, double dy) = values == Along.X ? (above ? 1.0 : -1.0, 0.0) : (0.0, above ? -1.0 : 1.0);
        Place Along2(double along, double across) => new(c.X + (dx * along) + (dy * across), c.Y + (dy * along) + (dx * across));
        return new([Along2(r, 0), Along2(r + 16, 0), Along2(r + 11, 3.4), Along2(r + 16, 0), Along2(r + 11, -3.4)], false, null, new Pen(ink, 1.4));
    }
}
