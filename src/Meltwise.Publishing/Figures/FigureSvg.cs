using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Figures;

/// <summary>How a figure is written as SVG.</summary>
public sealed record FigureSvgOptions
{
    /// <summary>Colours; <see cref="Palette.Variables"/> for a page.</summary>
    public Palette Palette { get; init; } = Palette.Variables;

    /// <summary>True for a file of its own: fonts inside, title and caption drawn, fixed colours.</summary>
    public bool File { get; init; }

    /// <summary>Identity in the page.</summary>
    public string Id { get; init; } = "figure";

    /// <summary>Address that redraws the figure when a reader zooms: the script adds <c>panel</c>, <c>xMin</c>, <c>xMax</c>, <c>yMin</c>, <c>yMax</c>; null for no zoom.</summary>
    public string? Redraw { get; init; }

    /// <summary>Axis limits by panel.</summary>
    public IReadOnlyDictionary<int, AxisView>? Views { get; init; }

    /// <summary>A file of its own in fixed colours.</summary>
    public static FigureSvgOptions AsFile { get; } = new() { File = true, Palette = Palette.Light };
}

/// <summary>Writes a figure as SVG with real text; marks carry <c>data-name</c>, <c>data-detail</c> and links for the page's script.</summary>
public static class FigureSvg
{
    /// <summary>The SVG element, or file.</summary>
    public static string Write(Figure figure, FigureSvgOptions? options = null)
    {
        options ??= new();
        Sheet sheet = FigureLayout.Lay(figure, new(options.File, options.File, options.Views));
        if (options.File)
            sheet = Margins(sheet, 28);
        string attributes = options.File ? "" : $" id=\"{SvgWriter.Escape(options.Id)}\" data-figure=\"\"" + (options.Redraw is { } url ? $" data-redraw=\"{SvgWriter.Escape(url)}\"" : "");
        Palette palette = options.File && ReferenceEquals(options.Palette, Palette.Variables) ? Palette.Light : options.Palette;
        return SvgWriter.Write(sheet, palette, options.File, figure.Description, options.Id, attributes);
    }

    /// <summary>The sheet with blank margins round it.</summary>
    internal static Sheet Margins(Sheet sheet, double margin)
    {
        Shape[] moved = [.. sheet.Shapes.Select(s => Moved(s, margin))];
        return new(sheet.Width + (2 * margin), sheet.Height + (2 * margin), moved);
    }

    private static Shape Moved(Shape shape, double by)
    {
        Place At(Place p) => new(p.X + by, p.Y + by);
        return shape switch
        {
            Shape.Path path => path with { Places = [.. path.Places.Select(At)] },
            Shape.Circle circle => circle with { Centre = At(circle.Centre) },
            Shape.Text text => text with { Baseline = At(text.Baseline) },
            Shape.Clip clip => clip with { X = clip.X + by, Y = clip.Y + by, Inside = [.. clip.Inside.Select(s => Moved(s, by))] },
            Shape.Named named => named with { Inside = [.. named.Inside.Select(s => Moved(s, by))] },
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }
}
