namespace Meltwise.Publishing.Figures;

/// <summary>The script and the style that figures need in a page.</summary>
public static class FigureScript
{
    /// <summary>JavaScript: hover names the coupon, arrow keys step from mark to mark, Enter opens, drag zooms, double click or Escape shows all, copy as SVG, PNG or data.</summary>
    public static string JavaScript { get; } = Load();

    /// <summary>CSS of the <c>figure</c> element, on the page's colour variables.</summary>
    public const string Css = """
        .figure { margin: 0; }
        /* A label at the end of an axis may reach a little beyond the drawing. */
        .figure-drawing { overflow-x: auto; padding-right: 16px; margin-right: -16px; }
        .figure .fig { display: block; max-width: 100%; min-width: 600px; height: auto; overflow: visible; }
        .figure .fig text { font-variant-numeric: lining-nums tabular-nums; }
        .figure .fig a { cursor: pointer; }
        .figure .fig[data-redraw] { touch-action: pan-y; }
        .figure-says + figcaption { padding-top: 0; }
        .figure-says { min-height: 21px; margin: 0; font: 500 14.5px/21px var(--label); color: var(--ink-2); }
        .figure-says b { color: var(--ink); font-weight: 650; }
        .figure-take, .figure-table { font: 500 14px/20px var(--label); color: var(--ink-2); margin: 6px 0 0; }
        .figure-table summary { cursor: pointer; }
        @media print { .figure-says, .figure-take, .figure-table { display: none; } }
        """;

    private static string Load()
    {
        using Stream stream = typeof(FigureScript).Assembly.GetManifestResourceStream("figure.js") ?? throw new InvalidOperationException("The figure script is missing from the assembly.");
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }
}
