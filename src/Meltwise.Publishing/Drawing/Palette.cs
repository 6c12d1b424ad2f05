namespace Meltwise.Publishing.Drawing;

/// <summary>Colours of the tokens, as <c>#rrggbb</c>, and how they are written in SVG.</summary>
public sealed class Palette
{
    private readonly string[] _colours;

    private Palette(params string[] colours) => _colours = colours;

    /// <summary>On light stock.</summary>
    public static Palette Light { get; } =
        new("#16202a", "#3d4a54", "#5a6770", "#b0310a", "#66727a", "#66737b", "#cbd1cf", "#f7f8f5", "#dfe5e3", "#eaeeec");

    /// <summary>On dark stock.</summary>
    public static Palette Dark { get; } =
        new("#e4e8e5", "#bcc6c8", "#97a4aa", "#ff8d4d", "#83909a", "#8b989f", "#303b43", "#11171c", "#26323a", "#1b252b");

    /// <summary>Black and heat on white, for paper. Survives a grey copier.</summary>
    public static Palette Print { get; } =
        new("#0c1116", "#333d45", "#55616a", "#b0310a", "#66727a", "#66737b", "#c6cccb", "#ffffff", "#dfe5e3", "#ecf0ee");

    /// <summary>CSS variables, so that the page decides between light and dark.</summary>
    public static Palette Variables { get; } =
        new("var(--ink)", "var(--ink-2)", "var(--ink-3)", "var(--heat)", "var(--rule)", "var(--past)", "var(--hair)", "var(--paper)", "var(--shade)", "var(--shade-2)");

    /// <summary>The colour of a token.</summary>
    public string this[Ink ink] => _colours[(int)ink];
}
