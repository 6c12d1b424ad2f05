using Meltwise.Casework.Cautions;
using Meltwise.Publishing.Labels;
using Meltwise.Publishing.Report;
using UglyToad.PdfPig;
using Xunit;

namespace Meltwise.Publishing.Tests.Labels;

public sealed class LabelTests
{
    [Fact]
    public void Every_coupon_has_its_label_thirty_a_page()
    {
        byte[] file = LabelSheet.WritePdf("E-118", [.. Enumerable.Range(1, 31).Select(i => new CouponLabel($"X{i:00}", $"meltwise:E-118/X{i:00}", ["unnotched 7×10×55", "L", "load 1"]))]);
        using PdfDocument pdf = PdfDocument.Open(file);
        Assert.Equal(2, pdf.NumberOfPages);
        string text = string.Concat(pdf.GetPages().SelectMany(p => p.Letters).Select(l => l.Value));
        Assert.All(Enumerable.Range(1, 31), i => Assert.Contains($"X{i:00}", text, StringComparison.Ordinal));
    }

    [Fact]
    public void A_square_has_the_finder_patterns_of_ISO_18004()
    {
        // ISO/IEC 18004: three corners hold 7 × 7 squares, dark border, light ring, dark 3 × 3 centre; the side is 17 + 4·version modules.
        bool[,] modules = QrSquare.Of("meltwise:E-118/X3H");
        int size = modules.GetLength(0);
        Assert.Equal(0, (size - 17) % 4);
        foreach ((int row, int column) in new[] { (0, 0), (0, size - 7), (size - 7, 0) })
        {
            for (int r = 0; r < 7; r++)
            {
                for (int c = 0; c < 7; c++)
                    Assert.Equal(r is 0 or 6 || c is 0 or 6 || (r is >= 2 and <= 4 && c is >= 2 and <= 4), modules[row + r, column + c]);
            }
        }
    }

    [Fact]
    public void A_bench_sheet_lists_every_test_in_order_with_cautions()
    {
        BenchSheet sheet = new()
        {
            Enquiry = "E-118",
            Property = "impact energy",
            Unit = "J",
            Condition = "unnotched 7×10×55, L, 23 °C",
            Allocation = "dealt by seeded permuted blocks, seed 7",
            IsDemonstration = true,
            Cutting = [new("K17", "L", "unnotched 7×10×55", 15), new("M03", "L", "unnotched 7×10×55", 15)],
            Loads = [new("1", 2, "B2"), new("1", 1, "A1")],
            HardnessOrder = ["B2", "A1"],
            Tests = [new(2, "1", "A1"), new(1, "1", "B2")],
            Treatments = [new("Load 1", ["austenitize 1150 °C, 4 min"])],
            Cautions = CautionTable.OfProperty("impact energy"),
        };
        byte[] file = ReportPdf.Write(BenchSheetDocument.Build(sheet));
        using PdfDocument pdf = PdfDocument.Open(file);
        string text = string.Concat(pdf.GetPages().SelectMany(p => p.Letters).Select(l => l.Value)).Replace(" ", "", StringComparison.Ordinal);
        Assert.Contains("1A1·2B2", text.Replace("\u00A0", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.True(text.IndexOf("11B2", StringComparison.Ordinal) < text.IndexOf("21A1", StringComparison.Ordinal));
        Assert.Contains("seed7", text, StringComparison.Ordinal);
        Assert.Contains("1B2·2A1", text.Replace("\u00A0", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("austenitize1150°C", text.Replace("\u00A0", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("neverreachinwhileitiscocked", text, StringComparison.Ordinal);
        Assert.Contains("Reminderonly.", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cutting_sketch_lists_the_blanks_of_each_heat_and_says_that_it_tells_the_key()
    {
        CuttingPiece[] pieces = [new("M03", 1, "X3H", "L, 7×10×55", null), new("K17", 2, "P7K", null, "slice 2"), new("K17", 1, "A1B", null, "slice 1")];
        string text = string.Concat(PdfDocument.Open(ReportPdf.Write(CuttingSketchDocument.Build("E-118", ["impact energy", "hardness"], pieces, true))).GetPages().SelectMany(p => p.Letters).Select(l => l.Value)).Replace(" ", "", StringComparison.Ordinal);
        Assert.Contains("tellsthekey", text, StringComparison.Ordinal);
        Assert.True(text.IndexOf("HeatK17", StringComparison.Ordinal) < text.IndexOf("1A1B", StringComparison.Ordinal));
        Assert.True(text.IndexOf("1A1B", StringComparison.Ordinal) < text.IndexOf("2P7K", StringComparison.Ordinal));
        Assert.True(text.IndexOf("2P7K", StringComparison.Ordinal) < text.IndexOf("HeatM03", StringComparison.Ordinal));
        Assert.Contains("slice2", text, StringComparison.Ordinal);
        Assert.Contains("grindwet", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_to_label_is_said()
    {
        Assert.Throws<ArgumentException>(() => LabelSheet.WritePdf("E-118", []));
        Assert.Throws<ArgumentException>(() => QrSquare.Of(""));
    }
}
