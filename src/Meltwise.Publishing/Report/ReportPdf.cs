using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Drawing;
using PdfSharp.Pdf;

namespace Meltwise.Publishing.Report;

/// <summary>Writes a document as PDF on A4: bundled faces embedded as subsets, vector figures, an outline, page numbers, and the structure that a screen reader follows.</summary>
public static class ReportPdf
{
    /// <summary>The PDF file.</summary>
    /// <exception cref="ReportFaultException">A private name is left in a version that must hold none.</exception>
    public static byte[] Write(ReportDocument document)
    {
        PrivateNames.Check(document);
        _ = PdfFonts.Of(TypeStyle.Axis, 1);
        using PdfDocument pdf = new();
        pdf.Info.Title = document.Title;
        pdf.Info.Creator = "Meltwise";
        PdfFlow.Set(pdf, PdfBlocks.Slabs(document.Blocks), document.Foot);
        using MemoryStream file = new();
        pdf.Save(file, false);
        return file.ToArray();
    }
}
