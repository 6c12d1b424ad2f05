using Meltwise.Casework.Studying;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using Xunit;

namespace Meltwise.Publishing.Tests.Report.Parts;

public sealed class ReportContentTests
{
    private static readonly string[] s_titles =
    [
        "Answer", "What was compared", "Rule and amendments", "Design", "Heat treatment", "Results", "Hardness", "Structure", "Chemistry", "Fracture origins", "Explanation", "Own history",
        "What was left out, and how firm it is", "What cannot be said", "Uncertainty and decision rule", "Custody and retained material", "Standards and deviations", "People, payment, interests",
        "Reproduction", "For whoever repeats the work",
    ];

    private static string Text(ReportInput input, bool anonymous = false) => ReportPdfTests.Text(ReportPdf.Write(ReportBuilder.Build(input, anonymous)));

    private static string Packed(string text) => text.Replace(" ", "", StringComparison.Ordinal);

    [Fact]
    public void Every_part_stands_in_its_order_with_or_without_data()
    {
        ReportInput made = InventedReport.Make();
        ReportInput bare = made with { Heats = [], Chemistry = [], Treatments = [], Trend = null, Explanation = [], Instruments = [], Custody = [], Coupons = [], Enquiry = made.Enquiry with { Work = [], PaidBy = null, ConflictsOfInterest = null } };
        Assert.Equal(s_titles, ReportBuilder.Build(made).Blocks.OfType<Block.Part>().Select(p => p.Text));
        Assert.Equal(s_titles, ReportBuilder.Build(bare).Blocks.OfType<Block.Part>().Select(p => p.Text));
        string text = Text(bare);
        foreach (string line in (string[])
        [
            "No record of the heats", "No record of the heat treatment was given.", "No pictures of the structure belong to this enquiry.", "No chemistry was recorded", "No fracture was examined, or nothing was recorded of it.",
            "No explanation is offered", "Nothing was recorded of how the material came", "No history was used.",
        ])
            Assert.Contains(Packed(line), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Custody_certificate_people_and_package_are_printed()
    {
        ReportInput made = InventedReport.Make();
        ChemistryResult certificate = new("K17", "Cr", new(4.35, "wt%", Censoring.None, "4.35"), "certificate", "Northern Foundry");
        string text = Text(made with { Chemistry = [.. made.Chemistry, certificate, certificate with { Element = "Mo", Typed = new(5.0, "wt%", Censoring.None, "5.0") }] });
        foreach (string said in (string[])
        [
            "blue paint on one end, stamped K17", "NF-2231 of 20 January 2026", "2 spares, all halves, the remnant bar", "31 March 2031", "Cr 4.35 against 4.18 ± 0.06, apart", "Mo 5.0 against 4.98 ± 0.07; ".TrimEnd(' ', ';'),
            "heat treatment", "Hardshop Example", "outside", "C. Signer", "holds no interest", "Paid by", "Package", "ISO 148-1, ASTM E23",
        ])
            Assert.Contains(Packed(said), text, StringComparison.Ordinal);
        Assert.DoesNotContain(Packed("Mo 5.0 against 4.98 ± 0.07, apart"), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Origins_are_counted_by_lot_and_listed_from_the_lowest_reading()
    {
        ReportInput made = InventedPack.Make().Report;
        string text = Text(made with { Origins = [new(new("K17", "X3H"), OriginKind.Surface), new(new("M03", "R4T"), OriginKind.Inclusion, 42, 180, "stereo microscope 40×"), new(new("M03", "V5M"), OriginKind.NoneSeen)] });
        string part = text[text.IndexOf("Fractureorigins", StringComparison.Ordinal)..];
        Assert.Contains("K171of12", part, StringComparison.Ordinal);
        Assert.Contains("M032of12", part, StringComparison.Ordinal);
        Assert.True(part.IndexOf("R4TM03", StringComparison.Ordinal) < part.IndexOf("X3HK17", StringComparison.Ordinal));
        Assert.Contains("42180stereomicroscope40×", part, StringComparison.Ordinal);
    }

    [Fact]
    public void A_study_is_a_part_with_groups_figure_and_method()
    {
        Study study = new()
        {
            Property = "impact energy",
            Unit = "J",
            Scale = "log",
            By = ["source"],
            Control = "Northern Foundry",
            Groups = [new("Northern Foundry", 12, 3, 60.1), new("Southern Foundry", 10, 3, 52.2)],
            Comparisons = [new("Northern Foundry", "Southern Foundry", new(0.87, 0.78, 0.97, 0.95), new(0.87, 0.8, 0.95, 0.9), null, null, 18, 0.02, Casework.Judging.Outcome.EquivalentDetectable, "Southern Foundry against Northern Foundry: equivalent, real but immaterial; ratio 0.870 (0.780 to 0.970)")],
            Scatter = new Dictionary<string, double>(),
            Method = "one residual variance, one heat",
            LeftOut = new Dictionary<string, int> { ["group unknown"] = 2 },
            Notes = [],
        };
        StoredStudy stored = new(new() { Property = "impact energy", By = ["source"], Control = "Northern Foundry", Margin = "0.80..1.25" }, study, new(2026, 3, 20, 8, 0, 0, DateTimeKind.Utc), 24);
        ReportInput input = InventedReport.Make() with { Study = stored };
        string text = Text(input), hidden = Text(input, anonymous: true);
        foreach (string said in (string[])["Treatment study", "24 coupons of the bench", "margin 0.80..1.25", "equivalent, real but immaterial", "2 coupons left out: group unknown", "does not change the verdict"])
            Assert.Contains(Packed(said), text, StringComparison.Ordinal);
        Assert.Contains("SourceSagainstSourceN", hidden, StringComparison.Ordinal);
        Assert.DoesNotContain("Foundry", hidden, StringComparison.Ordinal);
    }
}
