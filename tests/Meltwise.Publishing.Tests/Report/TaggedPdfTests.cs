using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

/// <summary>The structure that a screen reader follows. Names of the elements and of their keys: ISO 32000-1:2008, 14.7 and 14.8; document language, title in the window, figures with words:
/// PDF/UA-1, ISO 14289-1 (both from memory).</summary>
public sealed class TaggedPdfTests
{
    private static readonly ReportDocument s_document = ReportBuilder.Build(InventedReport.Make());
    private static readonly PdfDocument s_pdf = PdfReader.Open(new MemoryStream(ReportPdf.Write(s_document)), PdfDocumentOpenMode.Import);

    [Fact]
    public void The_file_is_marked_as_tagged_and_names_its_language_and_title()
    {
        PdfDictionary catalog = s_pdf.Internals.Catalog;
        Assert.True(catalog.Elements.GetDictionary("/MarkInfo")!.Elements.GetBoolean("/Marked"));
        Assert.Equal("en", catalog.Elements.GetString("/Lang"));
        Assert.True(catalog.Elements.GetDictionary("/ViewerPreferences")!.Elements.GetBoolean("/DisplayDocTitle"));
        Assert.Equal(s_document.Title, s_pdf.Info.Title);
    }

    [Fact]
    public void Every_part_is_a_heading_under_the_one_title()
    {
        string[] kinds = [.. Elements().Select(Kind)];
        Assert.Single(kinds, "/H1");
        Assert.Equal(s_document.Blocks.OfType<Block.Part>().Count(), kinds.Count(k => k == "/H2"));
        Assert.True(Array.IndexOf(kinds, "/H1") < Array.IndexOf(kinds, "/H2"));
    }

    [Fact]
    public void Every_figure_has_words_that_stand_for_it()
    {
        PdfDictionary[] figures = [.. Elements().Where(e => Kind(e) == "/Figure")];
        Assert.Equal(s_document.Blocks.OfType<Block.Drawn>().Count() + s_document.Blocks.OfType<Block.Micrographs>().Sum(m => m.Pictures.Count), figures.Length);
        foreach (Block.Drawn drawn in s_document.Blocks.OfType<Block.Drawn>())
            Assert.Contains(figures, f => f.Elements.GetString("/Alt").Contains(drawn.Figure.Description, StringComparison.Ordinal));
        Assert.All(figures, f => Assert.True(f.Elements.GetString("/Alt").Length > 20));
    }

    [Fact]
    public void Every_table_has_one_head_and_all_its_rows_however_many_pages_it_takes()
    {
        Block.Table[] tables = [.. s_document.Blocks.OfType<Block.Table>()];
        PdfDictionary[] tagged = [.. Elements().Where(e => Kind(e) == "/Table")];
        Assert.Equal(tables.Length, tagged.Length);
        for (int i = 0; i < tables.Length; i++)
        {
            PdfDictionary[] rows = [.. Kids(tagged[i])];
            Assert.All(rows, r => Assert.Equal("/TR", Kind(r)));
            Assert.Equal(tables[i].Rows.Count + 1, rows.Length);
            Assert.All(Kids(rows[0]), c => Assert.Equal("/TH", Kind(c)));
            Assert.All(rows.Skip(1).SelectMany(Kids), c => Assert.Equal("/TD", Kind(c)));
            Assert.Equal(tables[i].Columns.Count, Kids(rows[0]).Count());
        }
    }

    [Fact]
    public void A_head_that_is_set_again_on_a_new_page_is_read_once()
    {
        Block.Table table = new([new("order", 1, true), new("coupon")], [.. Enumerable.Range(1, 120).Select(i => (IReadOnlyList<Rich>)[$"{i}", $"C{i:000}"])]);
        using PdfDocument pdf = PdfReader.Open(new MemoryStream(ReportPdf.Write(new() { Title = "t", Foot = "f", Blocks = [table] })), PdfDocumentOpenMode.Import);
        Assert.True(pdf.PageCount > 1);
        Assert.Equal(2, Under(pdf.Internals.Catalog.Elements.GetDictionary("/StructTreeRoot")!).Count(e => Kind(e) == "/TH"));
    }

    [Fact]
    public void Every_page_leads_back_to_the_structure()
    {
        foreach (PdfPage page in s_pdf.Pages)
            Assert.True(page.Elements.ContainsKey("/StructParents"));
    }

    private static IEnumerable<PdfDictionary> Elements() => Under(s_pdf.Internals.Catalog.Elements.GetDictionary("/StructTreeRoot")!);

    private static IEnumerable<PdfDictionary> Under(PdfDictionary element) => Kids(element).SelectMany(k => Under(k).Prepend(k));

    private static string Kind(PdfDictionary element) => element.Elements.GetName("/S");

    // Children that are elements: what a page draws stands among them as a number or as a reference to marked content.
    private static IEnumerable<PdfDictionary> Kids(PdfDictionary element)
    {
        PdfItem? kids = element.Elements.GetValue("/K");
        IEnumerable<PdfItem> items = kids is PdfArray array ? array.Elements : kids is null ? [] : [kids];
        return items.Select(i => i is PdfSharp.Pdf.Advanced.PdfReference reference ? reference.Value : i).OfType<PdfDictionary>().Where(d => d.Elements.ContainsKey("/S"));
    }
}
