using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

public sealed class ReportPdfTests
{
    private static readonly byte[] s_pdf = ReportPdf.Write(ReportBuilder.Build(InventedReport.Make()));

    [Fact]
    public void It_says_what_a_report_must_say()
    {
        string text = Text(s_pdf);
        foreach (string part in (string[])
        [
            "a real but immaterial difference", "May not be claimed", "relates only to the items tested", "Locked 3 March 2026, 09:14 UTC", "7f3a 91c0 5be2 08d4", "Amendment 1.", "mis-strike or wrong support",
            "c0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1d", "20260305", "Meltwise 0.1.0", "demonstration, all names and numbers invented", "Reminder only.", "What cannot be said", "Paid by",
        ])
            Assert.Contains(part.Replace(" ", "", StringComparison.Ordinal), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_page_is_A4_numbered_and_keeps_its_margins()
    {
        using PdfDocument pdf = PdfDocument.Open(s_pdf);
        foreach (Page page in pdf.GetPages())
        {
            // ISO 216: A4 is 210 mm × 297 mm; 72 pt an inch of 25.4 mm.
            Assert.Equal(210 / 25.4 * 72, page.Width, 0.1);
            Assert.Equal(297 / 25.4 * 72, page.Height, 0.1);
            Assert.Contains($"{page.Number}/{pdf.NumberOfPages}", string.Concat(page.Letters.Select(l => l.Value)).Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
            Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Left, 50, page.Width - 40));
            Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Bottom, 20, page.Height - 40));
            // Nothing of the content reaches into the foot: its rule stands 45 pt above the edge.
            Assert.All(page.Letters.Where(l => l.BoundingBox.Bottom > 45), l => Assert.True(l.BoundingBox.Bottom > 55, $"{l.Value} on page {page.Number} reaches into the foot"));
        }
    }

    [Fact]
    public void Fonts_are_embedded_subsets_of_the_bundled_faces_and_figures_are_vectors()
    {
        using PdfDocument pdf = PdfDocument.Open(s_pdf);
        Assert.All(pdf.GetPages().SelectMany(p => p.Letters).Select(l => l.FontName).Distinct(), f => Assert.Matches("^[A-Z]{6}\\+Meltwise", f));
        Assert.All(pdf.GetPages(), p => Assert.Empty(p.GetImages()));
    }

    [Fact]
    public void Words_are_as_wide_in_print_as_the_layout_measured()
    {
        using PdfDocument pdf = PdfDocument.Open(s_pdf);
        Letter[] word = [.. pdf.GetPage(1).Letters.Where(l => l.PointSize is > 35 and < 37)];
        Assert.Equal("Equivalent", string.Concat(word.Select(l => l.Value)));
        double printed = word.Sum(l => l.Width);
        double measured = Publishing.Fonts.TypeMeasure.Width("Equivalent", new(Publishing.Drawing.Face.Text, 500, false, 36, Publishing.Drawing.Ink.Main));
        // Advances are whole units of 1/1000 em, rounded once in each writer.
        Assert.Equal(measured, printed, 0.2);
    }

    [Fact]
    public void A_long_table_is_cut_between_rows_under_a_repeated_head()
    {
        Block.Table table = new([new("order", 1, true), new("coupon")], [.. Enumerable.Range(1, 120).Select(i => (IReadOnlyList<Rich>)[$"{i}", $"C{i:000}"])]);
        using PdfDocument pdf = PdfDocument.Open(ReportPdf.Write(new() { Title = "t", Foot = "f", Blocks = [table] }));
        Assert.InRange(pdf.NumberOfPages, 2, 4);
        foreach (Page page in pdf.GetPages())
            Assert.Contains("coupon", string.Concat(page.Letters.Select(l => l.Value)), StringComparison.Ordinal);
        string all = Text(ReportPdf.Write(new() { Title = "t", Foot = "f", Blocks = [table] }));
        Assert.All(Enumerable.Range(1, 120), i => Assert.Contains($"C{i:000}", all, StringComparison.Ordinal));
    }

    [Fact]
    public void A_word_wider_than_the_page_is_broken_and_nothing_is_lost()
    {
        string endless = string.Concat(Enumerable.Repeat("abcdefghij", 60));
        string text = Text(ReportPdf.Write(new() { Title = "t", Foot = "f", Blocks = [new Block.Paragraph(endless)] }));
        Assert.Contains(endless, text, StringComparison.Ordinal);
    }

    internal static string Text(byte[] file)
    {
        using PdfDocument pdf = PdfDocument.Open(file);
        return string.Concat(pdf.GetPages().SelectMany(p => p.Letters).Select(l => l.Value)).Replace(" ", "", StringComparison.Ordinal).Replace("\u00A0", "", StringComparison.Ordinal);
    }
}
