namespace Meltwise.Publishing.Drawing;

/// <summary>A place on a drawing, in px from its upper left corner.</summary>
public readonly record struct Place(double X, double Y);

/// <summary>How a line is drawn.</summary>
/// <param name="Ink">Token.</param>
/// <param name="Width">Width, px.</param>
/// <param name="Dash">Lengths on and off, px; null for a solid line.</param>
public sealed record Pen(Ink Ink, double Width, IReadOnlyList<double>? Dash = null);

/// <summary>The two faces.</summary>
public enum Face
{
    /// <summary>Text, tables, numbers: Vollkorn.</summary>
    Text,

    /// <summary>Labels, axes, notes: Ysabeau Office.</summary>
    Label,
}

/// <summary>How text is set.</summary>
/// <param name="Face">Face.</param>
/// <param name="Weight">Weight: text 400, 500, 600; labels 500, 650.</param>
/// <param name="Italic">Italic or upright.</param>
/// <param name="Size">Size, px.</param>
/// <param name="Ink">Token.</param>
public sealed record TypeStyle(Face Face, int Weight, bool Italic, double Size, Ink Ink)
{
    /// <summary>Axis and plain label.</summary>
    public static TypeStyle Axis { get; } = new(Face.Label, 500, false, 13.5, Ink.Second);

    /// <summary>Quiet label: second unit.</summary>
    public static TypeStyle Quiet { get; } = Axis with { Ink = Ink.Third };

    /// <summary>Strong label.</summary>
    public static TypeStyle Strong { get; } = new(Face.Label, 650, false, 13.5, Ink.Main);

    /// <summary>Strong label of the candidate.</summary>
    public static TypeStyle Hot { get; } = Strong with { Ink = Ink.Heat };

    /// <summary>Table text.</summary>
    public static TypeStyle Table { get; } = new(Face.Text, 400, false, 15.5, Ink.Main);
}

/// <summary>Where text stands in relation to its place.</summary>
public enum Anchor
{
    /// <summary>Begins there.</summary>
    Start,

    /// <summary>Centred there.</summary>
    Middle,

    /// <summary>Ends there.</summary>
    End,
}

/// <summary>A drawing primitive. A closed set of five: every writer draws each of them.</summary>
public abstract record Shape
{
    private Shape() { }

    /// <summary>A line or an area through places.</summary>
    public sealed record Path(IReadOnlyList<Place> Places, bool Closed, Ink? Fill, Pen? Pen) : Shape;

    /// <summary>A circle.</summary>
    public sealed record Circle(Place Centre, double Radius, Ink? Fill, Pen? Pen) : Shape;

    /// <summary>A line of text on its baseline, with a halo in the colour of the ground where it crosses marks.</summary>
    public sealed record Text(Place Baseline, string Content, TypeStyle Style, Anchor Anchor = Anchor.Start, bool Halo = false) : Shape;

    /// <summary>Shapes cut off outside a rectangle.</summary>
    public sealed record Clip(double X, double Y, double Width, double Height, IReadOnlyList<Shape> Inside) : Shape;

    /// <summary>Shapes that are one thing to a reader: a coupon, a heat, a plot area.</summary>
    /// <param name="Inside">The shapes.</param>
    /// <param name="Name">What it is called.</param>
    /// <param name="Detail">What is said of it.</param>
    /// <param name="Link">Where a click leads.</param>
    /// <param name="Facts">Machine-readable facts, written as <c>data-*</c> attributes.</param>
    public sealed record Named(IReadOnlyList<Shape> Inside, string? Name, string? Detail, string? Link, IReadOnlyList<KeyValuePair<string, string>> Facts) : Shape;

    /// <summary>A straight line.</summary>
    public static Shape Line(double x1, double y1, double x2, double y2, Pen pen) => new Path([new(x1, y1), new(x2, y2)], false, null, pen);

    /// <summary>A rectangle.</summary>
    public static Shape Box(double x, double y, double width, double height, Ink? fill, Pen? pen = null) =>
        new Path([new(x, y), new(x + width, y), new(x + width, y + height), new(x, y + height)], true, fill, pen);
}

/// <summary>Shapes on a sheet of a size in px. What every writer takes.</summary>
/// <param name="Width">Width, px.</param>
/// <param name="Height">Height, px.</param>
/// <param name="Shapes">In drawing order.</param>
public sealed record Sheet(double Width, double Height, IReadOnlyList<Shape> Shapes);
