using Meltwise.Casework.Cautions;
using Meltwise.Domain;
using Meltwise.Publishing.Labels;
using Meltwise.Publishing.Report;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Enquiries;

/// <summary>What goes to the bench on paper: the sheet with loads and the order of testing, and the labels of the coupons.</summary>
internal static class BenchPapers
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/enquiries/{name}/bench-sheet.pdf", (string name, Desk desk) => Answer(name, desk, "bench sheet", v => ReportPdf.Write(BenchSheetDocument.Build(SheetOf(v, desk.Bench.Card.IsDemonstration)))));
        routes.MapGet("/enquiries/{name}/labels.pdf", (string name, Desk desk) => Answer(name, desk, "labels", v => LabelSheet.WritePdf(v.Enquiry.Name, LabelsOf(v))));
    }

    /// <summary>The sheet. A coupon under code is named by its code alone, and stands in its load by the order of the codes, which is drawn at random.</summary>
    internal static BenchSheet SheetOf(EnquiryView view, bool isDemonstration) => new()
    {
        Enquiry = view.Enquiry.Name,
        Property = view.Property.Name,
        Unit = view.Property.StoredUnit.Name,
        Condition = string.Join(", ", view.Rows.SelectMany(r => new[] { r.Geometry, r.Orientation }).OfType<string>().Distinct()),
        Cutting = [.. view.Rows.GroupBy(r => (r.Heat, r.Orientation, r.Geometry)).Select(g => new CuttingLine(g.Key.Heat, g.Key.Orientation, g.Key.Geometry, g.Count()))],
        Loads = [.. view.Rows.Where(r => r.Load is not null).GroupBy(r => r.Load!).SelectMany(g => g.OrderBy(r => r.Code, StringComparer.Ordinal).Select((r, i) => new LoadPlace(g.Key, i + 1, Name(r))))],
        Tests = [.. view.Rows.Select((r, i) => new TestLine(r.Order ?? i + 1, null, Name(r)))],
        Cautions = [.. CautionTable.OfProperty(PropertyTable.Hardness.Name).Concat(CautionTable.OfProperty(view.Property.Name)).Distinct()],
        IsDemonstration = isDemonstration,
    };

    /// <summary>The labels, heat by heat as the blanks are cut.</summary>
    internal static IReadOnlyList<CouponLabel> LabelsOf(EnquiryView view) =>
    [
        .. view.Rows.OrderBy(r => r.Heat, StringComparer.Ordinal).ThenBy(r => r.Order).Select(r => new CouponLabel(
            Name(r), $"meltwise:{view.Enquiry.Name}/{Name(r)}", [.. new[] { r.Geometry, r.Orientation, r.Load is { } load ? $"load {load}" : null }.OfType<string>()])),
    ];

    private static string Name(CouponRow row) => row.Code ?? $"{row.Heat}/{row.Coupon}";

    private static IResult Answer(string name, Desk desk, string what, Func<EnquiryView, byte[]> write) =>
        desk.HasBench && EnquiryView.Find(desk.Bench, name) is { Rows.Count: > 0 } view
            ? Results.Bytes(write(view), "application/pdf", $"{name} {what}.pdf")
            : Results.NotFound();
}
