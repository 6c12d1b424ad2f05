using Meltwise.Publishing.Fonts;
using SkiaSharp;

namespace Meltwise.Publishing.Drawing;

/// <summary>Draws a sheet as a PNG picture, at the size of a slide.</summary>
public static class PngPainter
{
    /// <summary>Draws the sheet.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="palette">Colours, fixed ones.</param>
    /// <param name="widthPx">Width of the picture, px; 16 to 8000.</param>
    /// <returns>The PNG file.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Width outside its range.</exception>
    public static byte[] Draw(Sheet sheet, Palette palette, int widthPx)
    {
        if (widthPx is < 16 or > 8000)
            throw new ArgumentOutOfRangeException(nameof(widthPx), widthPx, "A picture is 16 to 8000 px wide.");
        float scale = (float)(widthPx / sheet.Width);
        using SKBitmap bitmap = new(widthPx, Math.Max(1, (int)Math.Ceiling(sheet.Height * scale)), SKColorType.Rgba8888, SKAlphaType.Premul);
        using SKCanvas canvas = new(bitmap);
        canvas.Clear(SKColor.Parse(palette[Ink.Paper]));
        canvas.Scale(scale);
        foreach (Shape shape in sheet.Shapes)
            Add(canvas, shape, palette);
        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    private static void Add(SKCanvas canvas, Shape shape, Palette palette)
    {
        switch (shape)
        {
            case Shape.Path path: AddPath(canvas, path, palette); break;
            case Shape.Circle circle:
                Paint(palette, circle.Fill, circle.Pen, paint => canvas.DrawCircle((float)circle.Centre.X, (float)circle.Centre.Y, (float)circle.Radius, paint));
                break;
            case Shape.Text text: AddText(canvas, text, palette); break;
            case Shape.Clip clip:
                canvas.Save();
                canvas.ClipRect(SKRect.Create((float)clip.X, (float)clip.Y, (float)clip.Width, (float)clip.Height));
                foreach (Shape inside in clip.Inside)
                    Add(canvas, inside, palette);
                canvas.Restore();
                break;
            case Shape.Named named:
                foreach (Shape inside in named.Inside)
                    Add(canvas, inside, palette);
                break;
        }
    }

    private static void AddPath(SKCanvas canvas, Shape.Path path, Palette palette)
    {
        using SKPath drawn = new();
        for (int i = 0; i < path.Places.Count; i++)
        {
            if (i == 0)
                drawn.MoveTo((float)path.Places[i].X, (float)path.Places[i].Y);
            else
                drawn.LineTo((float)path.Places[i].X, (float)path.Places[i].Y);
        }
        if (path.Closed)
            drawn.Close();
        Paint(palette, path.Fill, path.Pen, paint => canvas.DrawPath(drawn, paint));
    }

    private static void Paint(Palette palette, Ink? fill, Pen? pen, Action<SKPaint> draw)
    {
        using SKPaint paint = new() { IsAntialias = true };
        if (fill is { } f)
        {
            paint.Color = SKColor.Parse(palette[f]);
            draw(paint);
        }
        if (pen is null)
            return;
        paint.Style = SKPaintStyle.Stroke;
        paint.Color = SKColor.Parse(palette[pen.Ink]);
        paint.StrokeWidth = (float)pen.Width;
        using SKPathEffect? dash = pen.Dash is { } d ? SKPathEffect.CreateDash([.. d.Select(v => (float)v)], 0) : null;
        paint.PathEffect = dash;
        draw(paint);
    }

    private static void AddText(SKCanvas canvas, Shape.Text text, Palette palette)
    {
        using SKFont font = new(TypeMeasure.Typeface(text.Style), (float)text.Style.Size) { LinearMetrics = true, Subpixel = true, Hinting = SKFontHinting.None, Edging = SKFontEdging.Antialias };
        double x = text.Baseline.X - (text.Anchor switch { Anchor.Middle => 0.5, Anchor.End => 1, _ => 0 } * TypeMeasure.Width(text.Content, text.Style));
        using SKPaint paint = new() { IsAntialias = true, Color = SKColor.Parse(palette[Ink.Paper]) };
        if (text.Halo)
        {
            paint.Style = SKPaintStyle.Stroke;
            paint.StrokeWidth = 4;
            paint.StrokeJoin = SKStrokeJoin.Round;
            canvas.DrawText(text.Content, (float)x, (float)text.Baseline.Y, font, paint);
            paint.Style = SKPaintStyle.Fill;
        }
        paint.Color = SKColor.Parse(palette[text.Style.Ink]);
        canvas.DrawText(text.Content, (float)x, (float)text.Baseline.Y, font, paint);
    }
}
