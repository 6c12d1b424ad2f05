using Meltwise.Publishing.Drawing;

namespace Meltwise.Publishing.Figures;

/// <summary>Writes a figure as a PNG picture with title and caption.</summary>
public static class FigurePng
{
    /// <summary>Width of a slide, px.</summary>
    public const int SlideWidth = 1920;

    /// <summary>The PNG file.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="widthPx">Width, px.</param>
    /// <param name="dark">On dark ground.</param>
    public static byte[] Write(Figure figure, int widthPx = SlideWidth, bool dark = false) =>
        PngPainter.Draw(FigureSvg.Margins(FigureLayout.Lay(figure, new(true, true)), 28), dark ? Palette.Dark : Palette.Light, widthPx);
}
