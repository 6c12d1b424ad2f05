using Meltwise.Publishing.Figures;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class FigurePdfTests
{
    [Fact]
    public void A_pdf_figure_holds_vectors_and_text_in_the_bundled_faces()
    {
        using PdfDocument pdf = PdfDocument.Open(FigurePdf.Write(VerdictFigure.Build(InventedVerdict.Make())));
        Page page = Assert.Single(pdf.GetPages());
        string text = string.Concat(page.Letters.Select(l => l.Value));
        Assert.Contains("K17, reference", text, StringComparison.Ordinal);
        Assert.Contains("ft·lbf", text, StringComparison.Ordinal);
        Assert.Contains("agreed margin 0.80 to 1.25", text, StringComparison.Ordinal);
        Assert.NotEmpty(page.Paths);
        Assert.Empty(page.GetImages());
        Assert.All(page.Letters.Select(l => l.FontName).Distinct(), f => Assert.Contains("Meltwise", f, StringComparison.Ordinal));
    }

    [Fact]
    public void A_slide_picture_has_the_width_of_a_slide()
    {
        byte[] png = FigurePng.Write(VerdictFigure.Build(InventedVerdict.Make()));
        // PNG specification (W3C, second edition): signature, then the IHDR chunk with width and height as big-endian 32-bit numbers at byte 16.
        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], png[..8]);
        Assert.Equal(1920, System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)));
    }
}
