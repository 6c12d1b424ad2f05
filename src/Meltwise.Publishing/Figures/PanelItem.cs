namespace Meltwise.Publishing.Figures;

/// <summary>Shape of a mark: what it stands for is told by shape and fill, never by colour alone.</summary>
public enum MarkShape
{
    /// <summary>Hollow ring: the reference lot.</summary>
    Ring,

    /// <summary>Filled lozenge: the candidate lot.</summary>
    Lozenge,

    /// <summary>Open lozenge: the candidate where nothing is shown.</summary>
    OpenLozenge,

    /// <summary>Dot: a heat of the history.</summary>
    Dot,

    /// <summary>Plus: an ingot heat of the history.</summary>
    Plus,

    /// <summary>Open square: the house reference.</summary>
    Square,

    /// <summary>Ink dot: a coupon while the key is sealed.</summary>
    Sealed,
}

/// <summary>State of a mark. May be combined.</summary>
[Flags]
public enum MarkState
{
    /// <summary>Nothing to say.</summary>
    None = 0,

    /// <summary>A dotted circle round it.</summary>
    Suspect = 1,

    /// <summary>A stroke through it.</summary>
    Invalid = 2,

    /// <summary>Square brackets.</summary>
    Excluded = 4,

    /// <summary>An arrow upwards along the value axis: the value lies above.</summary>
    CensoredAbove = 8,

    /// <summary>An arrow downwards: the value lies below.</summary>
    CensoredBelow = 16,

    /// <summary>A cross: typed but doubted.</summary>
    Doubted = 32,
}

/// <summary>Role of a line.</summary>
public enum LineRole
{
    /// <summary>Ink, the trend.</summary>
    Trend,

    /// <summary>Dashed, the edge of what is expected.</summary>
    Dashed,

    /// <summary>Dotted.</summary>
    Dotted,

    /// <summary>Thin rule.</summary>
    Thin,

    /// <summary>The candidate.</summary>
    Hot,

    /// <summary>Heavy ink.</summary>
    Heavy,

    /// <summary>Hairline.</summary>
    Hair,
}

/// <summary>Fill of a bar.</summary>
public enum BarFill
{
    /// <summary>Solid ink.</summary>
    Solid,

    /// <summary>Grey.</summary>
    Grey,

    /// <summary>Outline.</summary>
    Outline,

    /// <summary>Hatched.</summary>
    Hatch,

    /// <summary>Solid in the ink of the candidate.</summary>
    Hot,
}

/// <summary>Direction along which an interval or a margin lies.</summary>
public enum Along
{
    /// <summary>Along the horizontal axis.</summary>
    X,

    /// <summary>Along the vertical axis.</summary>
    Y,
}

/// <summary>Something drawn in a panel. A closed set.</summary>
public abstract record PanelItem
{
    private PanelItem() { }

    /// <summary>The agreed margin: flat shade, a line at each limit, a dotted line at one (or zero).</summary>
    public sealed record MarginShade(Along Along, double Low, double High, double? Null, string? Label = null) : PanelItem;

    /// <summary>A band along the horizontal axis.</summary>
    public sealed record Band(IReadOnlyList<BandPoint> Points, bool Dark, bool DashedEdges, string? Name = null) : PanelItem;

    /// <summary>A line.</summary>
    public sealed record Line(IReadOnlyList<Drawing.Place> Points, LineRole Role, string? Name = null) : PanelItem;

    /// <summary>An estimate with its wide interval (thin, end strokes) and narrow interval (thick).</summary>
    public sealed record Interval(Along Along, double At, double WideLow, double WideHigh, double? NarrowLow, double? NarrowHigh, bool Candidate) : PanelItem;

    /// <summary>A mark.</summary>
    /// <param name="X">Horizontal value.</param>
    /// <param name="Y">Vertical value.</param>
    /// <param name="Shape">Shape.</param>
    /// <param name="Size">Size relative to the usual one.</param>
    /// <param name="State">State.</param>
    /// <param name="Name">Name said on hover.</param>
    /// <param name="Detail">What is said of it.</param>
    /// <param name="Link">Where a click leads.</param>
    /// <param name="Values">Axis along which its value lies, for the arrow of a censored one.</param>
    public sealed record Mark(
        double X, double Y, MarkShape Shape, double Size = 1, MarkState State = MarkState.None, string? Name = null, string? Detail = null, string? Link = null,
        Along Values = Along.X) : PanelItem;

    /// <summary>A label in place, with a leader when it stands off. Without an offset the layout finds a free place.</summary>
    public sealed record NamedPlace(double X, double Y, IReadOnlyList<TextRun> Lines, Drawing.Place? Offset = null, Drawing.Anchor Anchor = Drawing.Anchor.Start, bool Leader = true) : PanelItem;

    /// <summary>A bar between two corners.</summary>
    public sealed record Bar(double X0, double Y0, double X1, double Y1, BarFill Fill, string? Name = null, string? Detail = null) : PanelItem;
}

/// <summary>A place of a band.</summary>
public readonly record struct BandPoint(double X, double Low, double High);
