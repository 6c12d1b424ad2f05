using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Drawing;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Meltwise.Publishing.Labels;

/// <summary>Coupon labels on A4: a grid of labels with code, QR square and small lines, cut along hairlines.</summary>
public static class LabelSheet
{
    private const double PerMm = 72 / 25.4, LabelWidth = 63 * PerMm, LabelHeight = 25 * PerMm, Left = (595.28 - (3 * LabelWidth)) / 2, Top = 15 * PerMm;
    private const int Columns = 3, RowsAPage = 10;
    private static readonly TypeStyle s_code = new(Face.Label, 650, false, 17, Ink.Main);
    private static readonly TypeStyle s_small = new(Face.Label, 500, false, 8, Ink.Second);

    /// <summary>The PDF file.</summary>
    /// <param name="enquiry">Enquiry, in the foot.</param>
    /// <param name="labels">Labels, row by row.</param>
    /// <exception cref="ArgumentException">No labels, or a payload that is empty or too long.</exception>
    public static byte[] WritePdf(string enquiry, IReadOnlyList<CouponLabel> labels)
    {
        if (labels.Count == 0)
            throw new ArgumentException("There is no coupon to label.", nameof(labels));
        _ = PdfFonts.Of(s_code, 1);
        using PdfDocument document = new();
        document.Info.Title = $"Coupon labels {enquiry}";
        document.Info.Creator = "Meltwise";
        foreach (CouponLabel[] some in labels.Chunk(Columns * RowsAPage))
        {
            PdfPage page = document.AddPage();
            page.Width = XUnit.FromPoint(595.28);
            page.Height = XUnit.FromPoint(841.89);
            using XGraphics graphics = XGraphics.FromPdfPage(page);
            for (int i = 0; i < some.Length; i++)
                Draw(graphics, some[i], Left + (i % Columns * LabelWidth), Top + (i / Columns * LabelHeight));
            PdfText.Draw(graphics, PdfText.Break($"Meltwise · {enquiry} · coupon labels, cut along the hairlines", s_small, 480)[0], Left, 841.89 - 24);
        }
        using MemoryStream file = new();
        document.Save(file, false);
        return file.ToArray();
    }

    private static void Draw(XGraphics page, CouponLabel label, double x, double y)
    {
        page.DrawRectangle(PdfBlocks.Stroke(Ink.Hair, 0.4), x, y, LabelWidth, LabelHeight);
        bool[,] modules = QrSquare.Of(label.Payload);
        double size = LabelHeight - (6 * PerMm), module = size / modules.GetLength(0), left = x + (4 * PerMm), top = y + (3 * PerMm);
        XSolidBrush ink = new(XColors.Black);
        for (int row = 0; row < modules.GetLength(0); row++)
        {
            for (int start = 0; start < modules.GetLength(1); start++)
            {
                if (!modules[row, start])
                    continue;
                int end = start;
                while (end < modules.GetLength(1) && modules[row, end])
                    end++;
                page.DrawRectangle(ink, left + (start * module), top + (row * module), (end - start) * module, module + 0.02);
                start = end;
            }
        }
        double text = left + size + (4 * PerMm), room = LabelWidth - (text - x) - (2 * PerMm);
        PdfText.Draw(page, PdfText.Break(label.Code, s_code, room)[0], text, y + 24);
        double baseline = y + 37;
        foreach (string line in label.Lines.Take(3))
        {
            PdfText.Draw(page, PdfText.Break(line, s_small, room)[0], text, baseline);
            baseline += 10.5;
        }
    }
}
