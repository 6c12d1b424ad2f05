using Meltwise.Casework.Cautions;
using Meltwise.Casework.Recording;
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
        routes.MapGet("/enquiries/{name}/bench-sheet.pdf", (string name, Desk desk) => Answer(name, desk, "bench sheet", v => ReportPdf.Write(BenchSheetDocument.Build(SheetOf(v, desk.Bench)))));
        routes.MapGet("/enquiries/{name}/cutting-sketch.pdf", (string name, Desk desk) => Answer(name, desk, "cutting sketch", v => ReportPdf.Write(CuttingSketchDocument.Build(name, [.. PropertiesOf(v).Select(p => p.Name)], PiecesOf(v), desk.Bench.Card.IsDemonstration))));
        routes.MapGet("/enquiries/{name}/labels.pdf", (string name, Desk desk) => Answer(name, desk, "labels", v => LabelSheet.WritePdf(v.Enquiry.Name, LabelsOf(v))));
    }

    /// <summary>The sheet. A coupon under code is named by its code alone, and stands in its load by the order of the codes, which is drawn at random.</summary>
    internal static BenchSheet SheetOf(EnquiryView view, IBench bench)
    {
        Treatment[] treatments = [.. bench.Treatments().Where(t => view.Rows.Any(r => r.Treatment == t.SetValues)).DistinctBy(t => t.SetValues)];
        return new()
        {
            Enquiry = view.Enquiry.Name,
            Property = view.Property.Name,
            Unit = view.Property.StoredUnit.Name,
            Others = [.. PropertiesOf(view).Skip(1).Select(p => (p.Name, p.StoredUnit.Name))],
            Condition = string.Join(", ", view.Rows.SelectMany(r => new[] { r.Geometry, r.Orientation }).OfType<string>().Distinct()),
            // The reason of the allocation names its seed.
            Allocation = bench.Trail("enquiry", view.Enquiry.Name).Select(e => e.Why).FirstOrDefault(w => w?.Contains("seed", StringComparison.Ordinal) == true),
            Cutting = [.. view.Rows.GroupBy(r => (r.Heat, r.Orientation, r.Geometry)).Select(g => new CuttingLine(g.Key.Heat, g.Key.Orientation, g.Key.Geometry, g.Count()))],
            Loads = [.. view.Rows.Where(r => r.Load is not null).GroupBy(r => r.Load!).SelectMany(g => g.OrderBy(r => r.Code, StringComparer.Ordinal).Select((r, i) => new LoadPlace(g.Key, i + 1, Name(r))))],
            Treatments = [.. treatments.Select(t => new TreatmentOfLoads(LoadsOf(view, t), [.. t.Steps.Select(s => Written.Sentence(s.ToString()))]))],
            HardnessOrder = [.. view.Rows.Where(r => r.HardnessOrder is not null).OrderBy(r => r.HardnessOrder).Select(Name)],
            Tests = [.. view.Rows.Select((r, i) => new TestLine(r.Order ?? i + 1, r.Load, Name(r)))],
            TreatmentCautions = [.. treatments.SelectMany(CautionTable.Of).Distinct()],
            Cautions = [.. PropertiesOf(view).Prepend(PropertyTable.Hardness).SelectMany(p => CautionTable.OfProperty(p.Name)).Distinct()],
            IsDemonstration = bench.Card.IsDemonstration,
        };
    }

    private static string LoadsOf(EnquiryView view, Treatment treatment)
    {
        string[] loads = [.. view.Rows.Where(r => r.Treatment == treatment.SetValues).Select(r => r.Load).OfType<string>().Distinct().Order(StringComparer.Ordinal)];
        return loads.Length == 0 ? treatment.Name : $"Load {Written.AndList(loads)}: {treatment.Name}";
    }

    /// <summary>The pieces heat by heat, by name where names are numbers.</summary>
    internal static IReadOnlyList<CuttingPiece> PiecesOf(EnquiryView view) =>
    [
        .. view.Rows.GroupBy(r => r.Heat).SelectMany(g => g.OrderBy(r => int.TryParse(r.Coupon, out int n) ? n : int.MaxValue).ThenBy(r => r.Coupon, StringComparer.Ordinal)
            .Select((r, i) => new CuttingPiece(r.Heat, i + 1, Name(r), string.Join(", ", new[] { r.Orientation, r.Geometry }.OfType<string>()), r.Position))),
    ];

    /// <summary>The labels, heat by heat as the blanks are cut.</summary>
    internal static IReadOnlyList<CouponLabel> LabelsOf(EnquiryView view) =>
    [
        .. view.Rows.OrderBy(r => r.Heat, StringComparer.Ordinal).ThenBy(r => r.Order).Select(r => new CouponLabel(
            Name(r), $"meltwise:{view.Enquiry.Name}/{Name(r)}", LinesOf(r, AllocationPapers.ToRead([.. PropertiesOf(view).Select(p => p.Name)])))),
    ];

    /// <summary>The small lines of a label; what is to be read takes the last ones.</summary>
    private static IReadOnlyList<string> LinesOf(CouponRow row, IReadOnlyList<string> toRead)
    {
        string[] about = [.. new[] { row.Geometry, row.Orientation, row.Load is { } load ? $"load {load}" : null }.OfType<string>()];
        return toRead.Count == 0 ? about : [string.Join(", ", about), .. toRead];
    }

    /// <summary>The properties of the rule, the first primary one first, that are read on coupons and known to the table.</summary>
    private static IReadOnlyList<Property> PropertiesOf(EnquiryView view) =>
        [view.Property, .. (view.Enquiry.Rule?.OtherProperties() ?? []).Select(o => PropertyTable.Find(o.Property.Property)).OfType<Property>().Where(p => p != view.Property)];

    private static string Name(CouponRow row) => row.Code ?? $"{row.Heat}/{row.Coupon}";

    private static IResult Answer(string name, Desk desk, string what, Func<EnquiryView, byte[]> write) =>
        desk.HasBench && EnquiryView.Find(desk.Bench, name) is { Rows.Count: > 0 } view
            ? Results.Bytes(write(view), "application/pdf", $"{name} {what}.pdf")
            : Results.NotFound();
}
