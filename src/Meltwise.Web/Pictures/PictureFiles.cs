using System.Globalization;
using System.Text;
using Meltwise.Imaging;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Pictures;

/// <summary>Pictures to take along: the original, a view that every browser shows, the particles as a table, their mask, the settings.</summary>
internal static class PictureFiles
{
    private const int ViewWidth = 1640, SmallWidth = 480;
    private static readonly string[] s_formats = ["Png", "Jpeg", "Tiff"];

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/pictures/{key}/view.png", (string key, Desk desk, PictureTray tray) => View(key, ViewWidth, desk, tray));
        routes.MapGet("/pictures/{key}/small.png", (string key, Desk desk, PictureTray tray) => View(key, SmallWidth, desk, tray));
        routes.MapGet("/pictures/{key}/original", Original);
        routes.MapGet("/pictures/{key}/particles.csv", (string key, Desk desk, PictureTray tray, MeasuredPictures measured, HttpContext context) => Measured(key, desk, tray, measured, context, Particles));
        routes.MapGet("/pictures/{key}/mask.png", (string key, Desk desk, PictureTray tray, MeasuredPictures measured, HttpContext context) => Measured(key, desk, tray, measured, context, Mask));
        routes.MapGet("/pictures/{key}/settings.json", (string key, Desk desk, PictureTray tray, MeasuredPictures measured, HttpContext context) => Measured(key, desk, tray, measured, context, Settings));
    }

    // Whatever was brought in, TIFF of 16 bits too, as a picture that every browser shows; without the file's own metadata.
    private static IResult View(string key, int width, Desk desk, PictureTray tray)
    {
        if (PictureAt.TryFind(key, desk, tray) is not { } picture || !IsPicture(picture.Path))
        {
            return Results.NotFound();
        }

        try
        {
            using NetVips.Image small = NetVips.Image.Thumbnail(picture.Path, width, size: NetVips.Enums.Size.Down);
            return Results.Bytes(small.PngsaveBuffer(keep: NetVips.Enums.ForeignKeep.None), "image/png");
        }
        catch (NetVips.VipsException)
        {
            return Results.NotFound();
        }
    }

    // The library opens many kinds of file; a page shows only those that are measured, within the same limits.
    private static bool IsPicture(string path)
    {
        try
        {
            if (!s_formats.Any(f => (NetVips.Image.FindLoad(path) ?? "").Contains(f, StringComparison.Ordinal)))
            {
                return false;
            }

            using NetVips.Image header = NetVips.Image.NewFromFile(path);
            return (long)header.Width * header.Height <= PictureLimits.Default.MaxPixels;
        }
        catch (NetVips.VipsException)
        {
            return false;
        }
    }

    private static IResult Original(string key, Desk desk, PictureTray tray) => PictureAt.TryFind(key, desk, tray) is { } picture
        ? Results.File(picture.Path, "application/octet-stream", picture.FileName, enableRangeProcessing: true)
        : Results.NotFound();

    private static async Task<IResult> Measured(string key, Desk desk, PictureTray tray, MeasuredPictures measured, HttpContext context, Func<PictureAt, PictureResult, IResult> answer)
    {
        if (PictureAt.TryFind(key, desk, tray) is not { } picture)
        {
            return Results.NotFound();
        }

        PictureQuery query = PictureQuery.From(context.Request.Query);
        if (measured.Find(desk.Kind, picture, query) is null)
        {
            LongWork.WorkInHand work = measured.Start(desk.Kind, picture, query);
            await work.Settled.WaitAsync(context.RequestAborted).ConfigureAwait(false);
            if (work.State != LongWork.WorkState.Done)
            {
                return Results.Text(work.Words, "text/plain; charset=utf-8", statusCode: StatusCodes.Status422UnprocessableEntity);
            }
        }

        return measured.Find(desk.Kind, picture, query) is { } result ? answer(picture, result) : Results.NotFound();
    }

    private static IResult Particles(PictureAt picture, PictureResult result)
    {
        using StringWriter table = new(CultureInfo.InvariantCulture);
        ParticleTable.Write(table, result.ParticleList, result.Scale.MicrometresPerPixel);
        return Results.Bytes(Encoding.UTF8.GetBytes(table.ToString()), "text/csv; charset=utf-8", NameOf(picture, "particles.csv"));
    }

    private static IResult Mask(PictureAt picture, PictureResult result)
    {
        (int width, int height) = (result.Metadata.Width, result.Metadata.Height);
        if ((long)width * height > PictureLimits.Default.MaxWholePixels)
        {
            return Results.Text("The mask of so large a picture is not made here; take the table of particles, or measure a part of it.", "text/plain; charset=utf-8", statusCode: StatusCodes.Status422UnprocessableEntity);
        }

        byte[] mask = new byte[width * height];
        foreach (Run run in result.ParticleList.SelectMany(p => p.Mask))
        {
            mask.AsSpan((run.Y * width) + run.From, run.Length).Fill(255);
        }

        using NetVips.Image image = NetVips.Image.NewFromMemory(mask, width, height, 1, NetVips.Enums.BandFormat.Uchar);
        return Results.Bytes(image.PngsaveBuffer(compression: 6), "image/png", NameOf(picture, "mask.png"));
    }

    private static IResult Settings(PictureAt picture, PictureResult result) =>
        Results.Bytes(Encoding.UTF8.GetBytes(SettingsFile.Write(result)), "application/json", NameOf(picture, "settings.json"));

    private static string NameOf(PictureAt picture, string ending) => $"{picture.Record?.Name ?? Path.GetFileNameWithoutExtension(picture.FileName)}-{ending}";
}
