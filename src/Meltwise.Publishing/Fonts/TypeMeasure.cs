using System.Collections.Concurrent;
using Meltwise.Publishing.Drawing;
using SkiaSharp;

namespace Meltwise.Publishing.Fonts;

/// <summary>Widths of text set in the bundled faces. Advances are read once for each face; kerning is not applied, as the print writers apply none.</summary>
public static class TypeMeasure
{
    private static readonly ConcurrentDictionary<string, SKTypeface> s_faces = new(StringComparer.Ordinal);
    private static readonly ConcurrentDictionary<string, float[]> s_advances = new(StringComparer.Ordinal);
    private const int Last = 0x2300;

    /// <summary>The face of a style for drawing with Skia.</summary>
    public static SKTypeface Typeface(TypeStyle style) => s_faces.GetOrAdd(FontFile.For(style), static file =>
    {
        using SKData data = SKData.CreateCopy(FontFile.Read(file));
        return SKTypeface.FromData(data);
    });

    /// <summary>Width of a line, px.</summary>
    public static double Width(string text, TypeStyle style)
    {
        float[] advances = s_advances.GetOrAdd(FontFile.For(style), static (_, s) => Advances(Typeface(s)), style);
        double em = 0;
        foreach (char c in text)
            em += c < Last ? advances[c] : 0.6;
        return em * style.Size;
    }

    private static float[] Advances(SKTypeface face)
    {
        using SKFont font = new(face, 1000) { LinearMetrics = true, Hinting = SKFontHinting.None };
        float[] advances = new float[Last];
        for (int c = 0x20; c < Last; c++)
        {
            ushort glyph = font.GetGlyph(c);
            advances[c] = font.GetGlyphWidths([glyph])[0] / 1000;
        }
        return advances;
    }
}
