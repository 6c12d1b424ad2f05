using System.Globalization;
using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Pictures;

/// <summary>Pictures brought in: kept on the bench when their heat is named, otherwise laid on the tray for a day.</summary>
internal static class PictureUploads
{
    private const long LargestBytes = 8L << 30;
    private const string Message = "said";

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/pictures/upload", Upload).WithMetadata(new RequestSizeLimitAttribute(LargestBytes)).WithFormOptions(multipartBodyLengthLimit: LargestBytes);
        routes.MapPost("/pictures/sets", UploadSets).WithMetadata(new RequestSizeLimitAttribute(LargestBytes)).WithFormOptions(multipartBodyLengthLimit: LargestBytes);
        routes.MapPost("/pictures/{key}/bench", KeepFromTray);
    }

    private static async Task<IResult> Upload([FromForm] IFormFileCollection file, Desk desk, PictureTray tray, HttpContext context)
    {
        IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        IFormFile[] files = [.. file.Where(f => f.FileName.Length > 0)];
        if (files.Length == 0)
        {
            return Back(context, "No file was chosen. Nothing was read.");
        }

        string[] tokens = [.. files.Select(f => Lay(f, tray))];
        if (Text(form, "heat") is not null)
        {
            return Keep(tokens, form, desk, tray, context, "");
        }

        return files.Length == 1
            ? Results.LocalRedirect($"{context.Request.PathBase}/pictures/{tokens[0]}?scale={Uri.EscapeDataString(form["scale"].ToString())}")
            : Back(context, "Several files are kept on the bench together: name the heat they show. A single file can be looked at without one.");
    }

    private static async Task<IResult> UploadSets(PictureTray tray, HttpContext context)
    {
        IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        List<string> query = [];
        foreach (string set in new[] { "reference", "candidate" })
        {
            query.Add($"{set}={string.Join(',', form.Files.GetFiles(set).Where(f => f.FileName.Length > 0).Select(f => Lay(f, tray)))}");
        }

        query.AddRange(new[] { "scale", "low", "high" }.Select(name => $"{name}={Uri.EscapeDataString(form[name].ToString())}"));
        return Results.LocalRedirect($"{context.Request.PathBase}/pictures/compare?{string.Join('&', query)}");
    }

    private static async Task<IResult> KeepFromTray(string key, [FromForm] string query, Desk desk, PictureTray tray, HttpContext context)
    {
        IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        return tray.FindPath(key) is null ? Back(context, "That picture is no longer here; a picture stays for a day. Bring it in again.") : Keep([key], form, desk, tray, context, query);
    }

    private static IResult Keep(IReadOnlyList<string> tokens, IFormCollection form, Desk desk, PictureTray tray, HttpContext context, string query)
    {
        if (!desk.HasBench)
        {
            return Back(context, "There is no bench to keep pictures on yet. Start one first.");
        }

        (PictureDetails? details, string? fault) = Details(form);
        if (details is null)
        {
            return Back(context, $"{fault} Nothing was stored.");
        }

        try
        {
            Outcome<IReadOnlyList<Picture>> kept = new KeepPictures(desk.Bench).Run([.. tokens.Select(t => new BroughtPicture(tray.FindPath(t)!, tray.NameOf(t)!))], details, desk.Hand);
            string said = string.Join(' ', kept.Findings.Select(f => f.Text));
            if (kept.Value is not { } pictures)
            {
                return Back(context, $"{said} Nothing was stored.");
            }

            string place = pictures.Count == 1 ? $"pictures/{pictures[0].Name}{(query.Length > 0 ? "?" + query : "")}" : $"pictures?heat={Uri.EscapeDataString(details.Heat)}";
            return Results.LocalRedirect($"{context.Request.PathBase}/{place}");
        }
        catch (BenchException told)
        {
            return Back(context, told.Message);
        }
    }

    private static (PictureDetails? Details, string? Fault) Details(IFormCollection form)
    {
        if (Text(form, "heat") is not { } heat)
        {
            return (null, "The heat is not named.");
        }

        int? field = null;
        if (Text(form, "field") is { } typedField)
        {
            if (!int.TryParse(typedField, NumberStyles.None, CultureInfo.InvariantCulture, out int number))
            {
                return (null, $"Field: found “{typedField}”; expected a whole number.");
            }

            field = number;
        }

        double? scale = null;
        if (Text(form, "scale") is { } typedScale)
        {
            if (!double.TryParse(typedScale.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double number))
            {
                return (null, $"Scale: found “{typedScale}”; expected µm per pixel.");
            }

            scale = number;
        }

        return (new(heat, Text(form, "coupon"), Text(form, "mount"), field, Text(form, "plane"), Text(form, "magnification"), Text(form, "etch"), Text(form, "microscope"), scale,
            DateOnly.TryParseExact(Text(form, "taken"), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day : null), null);
    }

    private static string Lay(IFormFile file, PictureTray tray)
    {
        using Stream content = file.OpenReadStream();
        return tray.Put(file.FileName, content);
    }

    private static string? Text(IFormCollection form, string name) => string.IsNullOrWhiteSpace(form[name]) ? null : form[name].ToString().Trim();

    private static IResult Back(HttpContext context, string message) => Results.LocalRedirect($"{context.Request.PathBase}/pictures?{Message}={Uri.EscapeDataString(message)}");
}
