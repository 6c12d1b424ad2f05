using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Drawing;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Meltwise.Publishing.Figures;

/// <summary>Writes a figure as a vector PDF page of its own.</summary>
public static class FigurePdf
{
    private const double PointsPerPx = 0.75;

    /// <summary>The PDF file.</summary>
    public static byte[] Write(Figure figure)
    {
        Sheet sheet = FigureSvg.Margins(FigureLayout.Lay(figure, new(true, true)), 28);
        using PdfDocument document = new();
        document.Info.Title = figure.Title;
        document.Info.Creator = "Meltwise";
        PdfPage page = document.AddPage();
        page.Width = XUnit.FromPoint(sheet.Width * PointsPerPx);
        page.Height = XUnit.FromPoint(sheet.Height * PointsPerPx);
        _ = PdfFonts.Of(TypeStyle.Axis, PointsPerPx);
        using (XGraphics graphics = XGraphics.FromPdfPage(page))
            PdfPainter.Draw(graphics, sheet, Palette.Print, 0, 0, PointsPerPx);
        using MemoryStream file = new();
        document.Save(file, false);
        return file.ToArray();
    }
}
