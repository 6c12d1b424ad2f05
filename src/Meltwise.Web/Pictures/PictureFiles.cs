using System.Globalization;
using System.Text;
using Meltwise.Imaging;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Pictures;

/// <summary>Pictures in and out: the upload, the view a browser can show, the particles as a table.</summary>
internal static class PictureFiles
{
    private const int ViewWidth = 1640;

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapPost("/pictures/upload", Upload);
        routes.MapPost("/pictures/sets", UploadSets);
        routes.MapGet("/pictures/{token}/view.png", View);
        routes.MapGet("/pictures/{token}/particles.csv", Particles);
    }

    private static async Task<IResult> Upload(IFormFile? file, PictureTray tray, HttpContext context)
    {
        if (file is null || file.FileName.Length == 0)
        {
            return Results.LocalRedirect($"{context.Request.PathBase}/pictures?nothing=true");
        }

        using var content = new MemoryStream();
        await file.CopyToAsync(content, context.RequestAborted).ConfigureAwait(false);
        string token = tray.Put(file.FileName, content.ToArray());
        string scale = Uri.EscapeDataString(context.Request.Form["scale"].ToString());
        return Results.LocalRedirect($"{context.Request.PathBase}/pictures/{token}?scale={scale}");
    }

    private static async Task<IResult> UploadSets(PictureTray tray, HttpContext context)
    {
        IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        List<string> query = [];
        foreach (string set in new[] { "reference", "candidate" })
        {
            List<string> tokens = [];
            foreach (IFormFile file in form.Files.GetFiles(set).Where(f => f.FileName.Length > 0))
            {
                using var content = new MemoryStream();
                await file.CopyToAsync(content, context.RequestAborted).ConfigureAwait(false);
                tokens.Add(tray.Put(file.FileName, content.ToArray()));
            }

            query.Add($"{set}={string.Join(',', tokens)}");
        }

        query.AddRange(new[] { "scale", "low", "high" }.Select(name => $"{name}={Uri.EscapeDataString(form[name].ToString())}"));
        return Results.LocalRedirect($"{context.Request.PathBase}/pictures/compare?{string.Join('&', query)}");
    }

    // Whatever was brought in, TIFF of 16 bits too, as a picture that every browser shows.
    private static IResult View(string token, PictureTray tray)
    {
        if (tray.FindPath(token) is not { } path)
        {
            return Results.NotFound();
        }

        try
        {
            using NetVips.Image small = NetVips.Image.Thumbnail(path, ViewWidth, size: NetVips.Enums.Size.Down);
            return Results.Bytes(small.WriteToBuffer(".png"), "image/png");
        }
        catch (NetVips.VipsException)
        {
            return Results.NotFound();
        }
    }

    private static IResult Particles(string token, [AsParameters] PictureQuery query, PictureTray tray)
    {
        if (tray.FindPath(token) is not { } path)
        {
            return Results.NotFound();
        }

        try
        {
            PictureResult result = query.Measure(path);
            var csv = new StringBuilder("number,x px,y px,equivalent diameter px,equivalent diameter µm,aspect,cut by frame\r\n");
            foreach (Particle p in result.ParticleList)
            {
                string um = result.Scale.MicrometresPerPixel is { } s ? (s * p.EquivalentDiameter).ToString("0.####", CultureInfo.InvariantCulture) : "";
                csv.Append(CultureInfo.InvariantCulture, $"{p.Number},{p.X:0.##},{p.Y:0.##},{p.EquivalentDiameter:0.###},{um},{p.Aspect:0.###},{(p.Cut ? "yes" : "no")}\r\n");
            }

            return Results.Bytes(Encoding.UTF8.GetBytes(csv.ToString()), "text/csv; charset=utf-8", "particles.csv");
        }
        catch (UnreadablePictureException fault)
        {
            return Results.Text(fault.Message, "text/plain; charset=utf-8", statusCode: StatusCodes.Status422UnprocessableEntity);
        }
    }
}
