using System.Globalization;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;

namespace Meltwise.Publishing.Documents;

/// <summary>The bundled faces as PDF fonts. PDF output never depends on the fonts of the machine.</summary>
public static class PdfFonts
{
    private static readonly XPdfFontOptions s_embedded = new(PdfFontEncoding.Unicode, PdfFontEmbedding.TryComputeSubset);

    static PdfFonts() => GlobalFontSettings.FontResolver ??= new Bundled();

    /// <summary>The font of a style.</summary>
    /// <param name="style">The style, sizes in px.</param>
    /// <param name="scale">Points in a px.</param>
    public static XFont Of(TypeStyle style, double scale) => new(FontFile.For(style), style.Size * scale, XFontStyleEx.Regular, s_embedded);

    /// <summary>A colour from <c>#rrggbb</c>.</summary>
    public static XColor Colour(string hex)
    {
        int rgb = int.Parse(hex.AsSpan(1), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        return XColor.FromArgb(rgb >> 16, (rgb >> 8) & 255, rgb & 255);
    }

    private sealed class Bundled : IFontResolver
    {
        public byte[] GetFont(string faceName) => FontFile.Read(faceName);

        public FontResolverInfo ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
            new(familyName.EndsWith(".ttf", StringComparison.Ordinal) ? familyName : "meltwise-text-400.ttf");
    }
}
