using System.Text;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using UglyToad.PdfPig;
using Xunit;

namespace Meltwise.Publishing.Tests.Report.Parts;

public sealed class StructurePartTests
{
    private static readonly ReportInput s_input = InventedReport.Make() with { Pictures = InventedPictures.Make() };

    [Fact]
    public void Four_fields_stand_in_print_with_bars_and_what_was_measured()
    {
        byte[] file = ReportPdf.Write(ReportBuilder.Build(s_input));
        using PdfDocument pdf = PdfDocument.Open(file);
        Assert.Equal(4, pdf.GetPages().Sum(p => p.GetImages().Count()));
        string text = ReportPdfTests.Text(file);
        foreach (string said in (string[])["medianfield", "worstfield", "50µm", "nital4%,15s", "Largestparticleofafield", "higherbymorethanthemargin", "4fields,0.31mm²", "measuredundercode"])
            Assert.Contains(said, text, StringComparison.Ordinal);
    }

    // 320 px and 400 px at 0.45 µm/px: the wider fills its column, the narrower is drawn to the same scale.
    [Fact]
    public void Pictures_of_a_row_share_one_magnification()
    {
        Micrograph narrow = new("a", InventedPictures.Field(3), 320, 0.45), wide = new("b", InventedPictures.Field(5, 400, 300), 400, 0.45);
        IReadOnlyList<MicrographPair.Placed> placed = MicrographPair.Place([narrow, wide], 200);
        Assert.Equal([160, 200], placed.Select(p => Math.Round(p.Width, 6)));
        Assert.All(placed, p => Assert.Equal("50\u00A0µm", p.BarLabel));
        Assert.Equal(50 * 200 / (400 * 0.45), placed[0].Bar, 1e-9);
        IReadOnlyList<MicrographPair.Placed> unknown = MicrographPair.Place([narrow, wide with { MicrometresPerPixel = null }], 200);
        Assert.All(unknown, p => Assert.Equal(0, p.Bar));
    }

    [Fact]
    public void Nothing_but_pixels_of_a_picture_is_left_and_a_large_one_is_made_smaller()
    {
        byte[] named = InventedPictures.Field(3, 2400, 900);
        Assert.Contains("Secret Forge", Encoding.Latin1.GetString(named), StringComparison.Ordinal);
        PreparedPicture ready = PreparedPicture.Of(named);
        Assert.DoesNotContain("Secret Forge", Encoding.Latin1.GetString(ready.Png), StringComparison.Ordinal);
        Assert.Equal((1200, 450), (ready.WidthPx, ready.HeightPx));
        Assert.Throws<ReportFaultException>(() => PreparedPicture.Of(new byte[] { 1, 2, 3 }));
    }

    [Fact]
    public void The_public_version_names_no_lot_in_captions_and_notes()
    {
        string html = ReportHtml.Write(ReportBuilder.Build(s_input, anonymous: true));
        string words = html[html.IndexOf("Structure</h2>", StringComparison.Ordinal)..];
        words = System.Text.RegularExpressions.Regex.Replace(words, "base64,[A-Za-z0-9+/=]+", "", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(10));
        Assert.DoesNotContain("M03", words, StringComparison.Ordinal);
        Assert.Contains("one field of Lot C left out", words, StringComparison.Ordinal);
        Assert.Contains("scale bar 50\u00A0µm", words, StringComparison.Ordinal);
    }
}
