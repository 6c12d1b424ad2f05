using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Enquiries;

/// <summary>The report of an enquiry as PDF and as one HTML file, in full or with the names of sources hidden.</summary>
internal static class ReportFiles
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/enquiries/{name}/verdict.json", (string name, Desk desk) => desk.HasBench && EnquiryView.Find(desk.Bench, name)?.VerdictDocument is { } kept
            ? Results.Text(kept.Json, "application/json; charset=utf-8")
            : Results.NotFound());
        routes.MapGet("/enquiries/{name}/report.pdf", (string name, bool? hidden, Desk desk) => Answer(name, hidden ?? false, desk, "pdf"));
        routes.MapGet("/enquiries/{name}/report.html", (string name, bool? hidden, Desk desk) => Answer(name, hidden ?? false, desk, "html"));
    }

    /// <summary>The label of the report as it stands: a draft until it is issued.</summary>
    public static string VersionOf(Enquiry enquiry) => enquiry.StagesUtc.TryGetValue(EnquiryStage.Reported, out DateTime at)
        ? $"issued {Written.Day(Written.LocalDay(at)).Replace('\u00A0', ' ')}"
        : "draft";

    private static IResult Answer(string name, bool hidden, Desk desk, string form)
    {
        EnquiryView? view = desk.HasBench ? EnquiryView.Find(desk.Bench, name) : null;
        if (view?.Verdict is not { } verdict)
        {
            return Results.NotFound();
        }

        try
        {
            ReportInput input = ReportInput.FromBench(desk.Bench, view.Enquiry, verdict, DateTime.UtcNow) with
            {
                Laboratory = string.Join(", ", new[] { desk.Settings.Laboratory, desk.Settings.Address }.Where(s => s.Length > 0)) is { Length: > 0 } laboratory ? laboratory : null,
                VersionLabel = VersionOf(view.Enquiry),
            };
            ReportDocument document = ReportBuilder.Build(input, hidden);
            string file = $"{(hidden ? "public version" : name)}.{form}";
            return form == "pdf"
                ? Results.Bytes(ReportPdf.Write(document), "application/pdf", file)
                : Results.Bytes(Encoding.UTF8.GetBytes(ReportHtml.Write(document)), "text/html; charset=utf-8", file);
        }
        catch (Exception fault) when (fault is ReportFaultException or BenchException)
        {
            return Results.Text(fault.Message, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
        }
    }
}
