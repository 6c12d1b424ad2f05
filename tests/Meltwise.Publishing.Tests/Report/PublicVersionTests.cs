using System.Text;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using UglyToad.PdfPig;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

public sealed class PublicVersionTests
{
    [Fact]
    public void No_private_name_is_left_in_page_print_or_file_data()
    {
        ReportDocument document = ReportBuilder.Build(InventedReport.Make(), anonymous: true);
        string html = ReportHtml.Write(document);
        string body = html[html.IndexOf("<body>", StringComparison.Ordinal)..] + html[html.IndexOf("<title>", StringComparison.Ordinal)..html.IndexOf("</title>", StringComparison.Ordinal)];
        byte[] file = ReportPdf.Write(document);
        using PdfDocument pdf = PdfDocument.Open(file);
        string data = $"{pdf.Information.Title} {pdf.Information.Author} {pdf.Information.Subject} {pdf.Information.Keywords} {document.Foot}";
        string print = ReportPdfTests.Text(file);
        foreach (string name in InventedReport.PrivateNames)
        {
            Assert.DoesNotContain(name, body, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(name.Replace(" ", "", StringComparison.Ordinal), print, StringComparison.Ordinal);
            Assert.DoesNotContain(name, data, StringComparison.OrdinalIgnoreCase);
            // A short name may stand in a compressed stream by chance.
            if (name.Length >= 8)
                Assert.DoesNotContain(name, Encoding.Latin1.GetString(file), StringComparison.OrdinalIgnoreCase);
        }
        Assert.Contains("Lot C", body, StringComparison.Ordinal);
        Assert.Contains("Source S", body, StringComparison.Ordinal);
    }

    [Fact]
    public void The_full_version_names_them()
    {
        string html = ReportHtml.Write(ReportBuilder.Build(InventedReport.Make()));
        Assert.Contains("Northern Foundry", html, StringComparison.Ordinal);
        Assert.Contains("K17", html, StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_that_slipped_through_stops_the_file()
    {
        ReportDocument document = new() { Title = "t", Foot = "f", Blocks = [new Block.Paragraph("steel of Secret Forge & Sons")], PrivateNames = ["Secret Forge & Sons"] };
        ReportFaultException fault = Assert.Throws<ReportFaultException>(() => ReportHtml.Write(document));
        Assert.DoesNotContain("Secret", fault.Message, StringComparison.Ordinal);
        Assert.Throws<ReportFaultException>(() => ReportPdf.Write(document));
    }

    [Fact]
    public void Numbers_are_the_same_in_both_versions()
    {
        string full = ReportPdfTests.Text(ReportPdf.Write(ReportBuilder.Build(InventedReport.Make()))), open = ReportPdfTests.Text(ReportPdf.Write(ReportBuilder.Build(InventedReport.Make(), true)));
        foreach (string number in (string[])["0.84to0.97", "0.76to1.26", "63.2", "57.1", "21.8", "1.195"])
        {
            Assert.Contains(number, full, StringComparison.Ordinal);
            Assert.Contains(number, open, StringComparison.Ordinal);
        }
    }
}
