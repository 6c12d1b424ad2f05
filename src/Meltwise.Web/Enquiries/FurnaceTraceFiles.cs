using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Enquiries;

/// <summary>Files of furnace recorders: brought in for a load of an enquiry, set aside, taken out again as they came.</summary>
internal static class FurnaceTraceFiles
{
    /// <summary>Name of what the sheet is told after a trace was brought in or set aside.</summary>
    public const string Message = "trace";

    private const long LargestBytes = 20L << 20;

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/traces/upload", Upload).WithMetadata(new RequestSizeLimitAttribute(LargestBytes)).WithFormOptions(multipartBodyLengthLimit: LargestBytes);
        routes.MapPost("/traces/aside", SetAside);
        routes.MapGet("/traces/{name}/file", File);
    }

    private static async Task<IResult> Upload([FromForm] IFormFileCollection file, Desk desk, HttpContext context)
    {
        IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        if (file.FirstOrDefault(f => f.FileName.Length > 0) is not { } brought)
        {
            return Back(context, form, "No file was chosen. Nothing was stored.");
        }

        if (!TryNumber(form["set"], out double set) || !TryNumber(form["tolerance"], out double tolerance))
        {
            return Back(context, form, "The set value and its tolerance are numbers of °C. Nothing was stored.");
        }

        using MemoryStream content = new();
        await brought.CopyToAsync(content, context.RequestAborted).ConfigureAwait(false);
        TraceDetails details = new(form["load"].ToString(), set, tolerance, form["step"], form["column"]);
        return Told(context, form, () => new RecordTrace(desk.Bench).Run(details, brought.FileName, content.ToArray(), desk.Hand));
    }

    private static async Task<IResult> SetAside([FromForm] string name, [FromForm] string? why, Desk desk, HttpContext context)
    {
        IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        return Told(context, form, () => new RecordTrace(desk.Bench).SetAside(name, why ?? "", desk.Hand));
    }

    private static IResult File(string name, Desk desk) =>
        desk.Bench.FurnaceTraces().FirstOrDefault(t => t.Name == name) is { } trace && RecordTrace.Unpacked(trace) is { } content
            ? Results.File(content, "application/octet-stream", trace.FileName ?? name)
            : Results.Text("There is no such trace on this bench, or its file is not kept.", "text/plain; charset=utf-8", statusCode: StatusCodes.Status404NotFound);

    private static IResult Told(HttpContext context, IFormCollection form, Func<Outcome<FurnaceTrace>> useCase)
    {
        try
        {
            Outcome<FurnaceTrace> outcome = useCase();
            string said = string.Join(' ', outcome.Findings.Select(f => f.Text));
            return Back(context, form, outcome.Value is { } trace ? $"{trace.Name}: {FurnaceTraceWords.Summary(trace)}. {said}".Trim() : $"{said} Nothing was stored.");
        }
        catch (BenchException told)
        {
            return Back(context, form, told.Message);
        }
    }

    private static bool TryNumber(string? text, out double value) =>
        double.TryParse((text ?? "").Trim().Replace(',', '.').Replace('\u2212', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    private static IResult Back(HttpContext context, IFormCollection form, string message) =>
        Results.LocalRedirect($"{context.Request.PathBase}/{Addresses.Enquiry(form["enquiry"].ToString())}?{Message}={Uri.EscapeDataString(message)}#treatment");
}
