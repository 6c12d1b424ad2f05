using Meltwise.Publishing.Documents;
using PdfSharp.Drawing;

namespace Meltwise.Publishing.Drawing;

/// <summary>Draws a sheet as vectors on a PDF page.</summary>
public sealed class PdfPainter
{
    private readonly XGraphics _page;
    private readonly Palette _palette;
    private readonly double _x, _y, _scale;

    private PdfPainter(XGraphics page, Palette palette, double x, double y, double scale) => (_page, _palette, _x, _y, _scale) = (page, palette, x, y, scale);

    /// <summary>Draws the sheet with its upper left corner at a place of the page.</summary>
    /// <param name="page">The page.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="palette">Colours.</param>
    /// <param name="x">Left, pt.</param>
    /// <param name="y">Top, pt.</param>
    /// <param name="scale">Points in a px.</param>
    public static void Draw(XGraphics page, Sheet sheet, Palette palette, double x, double y, double scale)
    {
        PdfPainter painter = new(page, palette, x, y, scale);
        foreach (Shape shape in sheet.Shapes)
            painter.Add(shape);
    }

    private XPoint At(Place place) => new(_x + (place.X * _scale), _y + (place.Y * _scale));

    private void Add(Shape shape)
    {
        switch (shape)
        {
            case Shape.Path path: AddPath(path); break;
            case Shape.Circle circle: AddCircle(circle); break;
            case Shape.Text text: AddText(text); break;
            case Shape.Clip clip: AddClip(clip); break;
            case Shape.Named named:
                foreach (Shape inside in named.Inside)
                    Add(inside);
                break;
        }
    }

    private void AddPath(Shape.Path path)
    {
        if (path.Places.Count < 2)
            return;
        XGraphicsPath drawn = new();
        drawn.AddLines([.. path.Places.Select(At)]);
        if (path.Closed)
            drawn.CloseFigure();
        if (path.Fill is { } fill)
            _page.DrawPath(Brush(fill), drawn);
        if (path.Pen is { } pen)
            _page.DrawPath(PenOf(pen), drawn);
    }

    private void AddCircle(Shape.Circle circle)
    {
        XPoint centre = At(circle.Centre);
        double r = circle.Radius * _scale;
        XRect box = new(centre.X - r, centre.Y - r, 2 * r, 2 * r);
        if (circle.Fill is { } fill)
            _page.DrawEllipse(Brush(fill), box);
        if (circle.Pen is { } pen)
            _page.DrawEllipse(PenOf(pen), box);
    }

    private void AddText(Shape.Text text)
    {
        XFont font = PdfFonts.Of(text.Style, _scale);
        double width = Fonts.TypeMeasure.Width(text.Content, text.Style) * _scale;
        XPoint at = At(text.Baseline);
        at.X -= text.Anchor switch { Anchor.Middle => width / 2, Anchor.End => width, _ => 0 };
        if (text.Halo)
        {
            double size = text.Style.Size * _scale;
            _page.DrawRectangle(Brush(Ink.Paper), at.X - (0.1 * size), at.Y - (0.76 * size), width + (0.2 * size), 1.0 * size);
        }
        _page.DrawString(text.Content, font, Brush(text.Style.Ink), at, XStringFormats.BaseLineLeft);
    }

    private void AddClip(Shape.Clip clip)
    {
        XGraphicsState state = _page.Save();
        XPoint corner = At(new(clip.X, clip.Y));
        _page.IntersectClip(new XRect(corner.X, corner.Y, clip.Width * _scale, clip.Height * _scale));
        foreach (Shape inside in clip.Inside)
            Add(inside);
        _page.Restore(state);
    }

    private XSolidBrush Brush(Ink ink) => new(Colour(ink));

    private XColor Colour(Ink ink) => PdfFonts.Colour(_palette[ink]);

    private XPen PenOf(Pen pen)
    {
        XPen drawn = new(Colour(pen.Ink), pen.Width * _scale) { LineJoin = XLineJoin.Miter };
        if (pen.Dash is { } dash)
            drawn.DashPattern = [.. dash.Select(d => d / pen.Width)];
        return drawn;
    }
}
