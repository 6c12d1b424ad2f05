namespace Meltwise.Publishing.Figures;

/// <summary>The one description of a figure. Page, report and slide are drawn from it, so they cannot disagree.</summary>
public sealed record Figure
{
    /// <summary>Title; states the finding when there is one.</summary>
    public required string Title { get; init; }

    /// <summary>What a person who cannot see it is told.</summary>
    public required string Description { get; init; }

    /// <summary>First words of the caption, set strong.</summary>
    public string CaptionLead { get; init; } = "";

    /// <summary>The caption: what, geometry, orientation, temperature, n at each level, instrument, what each bar is.</summary>
    public string Caption { get; init; } = "";

    /// <summary>Panels from top to bottom.</summary>
    public required IReadOnlyList<Panel> Panels { get; init; }

    /// <summary>Key for marks only; lines and lots are named in place.</summary>
    public IReadOnlyList<KeyEntry> Key { get; init; } = [];

    /// <summary>The numbers behind it, as a table.</summary>
    public FigureData Data { get; init; } = FigureData.None;

    /// <summary>Where the numbers are from, printed under the caption.</summary>
    public IReadOnlyList<string> Sources { get; init; } = [];

    /// <summary>Drawn width, px.</summary>
    public double Width { get; init; } = 820;
}

/// <summary>A line of the key.</summary>
/// <param name="Shape">The mark; null for words alone.</param>
/// <param name="State">Its state.</param>
/// <param name="Text">What it stands for.</param>
public sealed record KeyEntry(MarkShape? Shape, string Text, MarkState State = MarkState.None);

/// <summary>The data of a figure: what is copied as data and shown as a table.</summary>
/// <param name="Columns">Headings, with units.</param>
/// <param name="Rows">Cells, one list a row, as long as <paramref name="Columns"/>.</param>
public sealed record FigureData(IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows)
{
    /// <summary>No data.</summary>
    public static FigureData None { get; } = new([], []);
}

/// <summary>A plot area with its axes, what is drawn in it, and the columns of text that share its rows.</summary>
public sealed record Panel
{
    /// <summary>Heading above it; null for none.</summary>
    public string? Heading { get; init; }

    /// <summary>Height of the plot area, px.</summary>
    public required double Height { get; init; }

    /// <summary>Horizontal axis.</summary>
    public required Axis X { get; init; }

    /// <summary>Vertical axis.</summary>
    public required Axis Y { get; init; }

    /// <summary>What is drawn, from the ground up.</summary>
    public required IReadOnlyList<PanelItem> Items { get; init; }

    /// <summary>Columns of text left of the plot, from the left.</summary>
    public IReadOnlyList<TextColumn> Left { get; init; } = [];

    /// <summary>Columns of text right of the plot.</summary>
    public IReadOnlyList<TextColumn> Right { get; init; } = [];

    /// <summary>Places on the vertical axis where a hairline divides rows.</summary>
    public IReadOnlyList<double> RowRules { get; init; } = [];

    /// <summary>Blank space above the panel, px.</summary>
    public double SpaceAbove { get; init; }
}

/// <summary>A column of text beside a plot.</summary>
/// <param name="Width">Width, px.</param>
/// <param name="Heading">Heading; null for none.</param>
/// <param name="Cells">Cells, placed by the vertical axis.</param>
/// <param name="Right">Set against the right edge.</param>
public sealed record TextColumn(double Width, string? Heading, IReadOnlyList<TextCell> Cells, bool Right = false);

/// <summary>A cell of a text column: lines of runs, and an outcome sign before them.</summary>
/// <param name="Row">Place on the vertical axis of its middle.</param>
/// <param name="Lines">Lines from the top.</param>
/// <param name="Sign">Sign of an outcome, or null.</param>
/// <param name="Mark">Mark before the text, or null.</param>
/// <param name="Above">Whether the sign's lozenge lies on the side above the margin.</param>
public sealed record TextCell(double Row, IReadOnlyList<IReadOnlyList<TextRun>> Lines, OutcomeSign? Sign = null, MarkShape? Mark = null, bool Above = false)
{
    /// <summary>A cell of one run.</summary>
    public static TextCell Of(double row, string text, TextRole role = TextRole.Label) => new(row, [[new(text, role)]]);
}

/// <summary>A run of text in one style.</summary>
/// <param name="Text">The characters.</param>
/// <param name="Role">How it is set.</param>
public sealed record TextRun(string Text, TextRole Role = TextRole.Label);

/// <summary>How a run is set.</summary>
public enum TextRole
{
    /// <summary>Plain label.</summary>
    Label,

    /// <summary>Quiet label.</summary>
    Quiet,

    /// <summary>Strong label.</summary>
    Strong,

    /// <summary>Strong label in the ink of the candidate.</summary>
    Hot,

    /// <summary>Number or text of a table.</summary>
    Table,

    /// <summary>Preferred number of a table.</summary>
    TableStrong,

    /// <summary>An outcome.</summary>
    Outcome,

    /// <summary>The qualifier of an outcome.</summary>
    Qualifier,

    /// <summary>A raised letter that points to a note.</summary>
    Raised,
}

/// <summary>Sign of an outcome: a lozenge and a ring in a relation. Always with the word.</summary>
public enum OutcomeSign
{
    /// <summary>Lozenge centred in the ring: equivalent.</summary>
    Centred,

    /// <summary>Off centre: real but immaterial.</summary>
    OffCentre,

    /// <summary>On the edge: different, size open.</summary>
    OnEdge,

    /// <summary>Outside: beyond the margin.</summary>
    Outside,

    /// <summary>Open lozenge wider than the ring: inconclusive.</summary>
    Wider,

    /// <summary>Dashed empty ring: no verdict.</summary>
    Empty,
}
