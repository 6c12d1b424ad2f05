using System.Globalization;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Viewing;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Pictures;

/// <summary>What the viewer asks for while it is moved: tiles, the particles in view, a preview of changed settings.</summary>
internal static class ViewerFiles
{
    private const int MostInView = 5000, MostOutlined = 700;
    private const long MostOutlinedPixels = 500_000;

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/pictures/{key}/tiles/{level:int}/{column:int}/{row:int}", Tile);
        routes.MapGet("/pictures/{key}/particles.json", InView);
        routes.MapGet("/pictures/{key}/preview.json", Preview);
    }

    private static IResult Tile(string key, int level, int column, int row, Desk desk, PictureTray tray, ViewedPictures viewed, HttpResponse response)
    {
        try
        {
            if (PictureAt.TryFind(key, desk, tray) is not { } picture || viewed.Tiles(picture).Png(level, column, row) is not { } png)
            {
                return Results.NotFound();
            }

            response.Headers.CacheControl = "private, max-age=86400";
            return Results.Bytes(png, "image/png");
        }
        catch (UnreadablePictureException)
        {
            return Results.NotFound();
        }
    }

    private static IResult InView(string key, string? box, Desk desk, PictureTray tray, MeasuredPictures measured, HttpRequest request)
    {
        if (PictureAt.TryFind(key, desk, tray) is not { } picture)
        {
            return Results.NotFound();
        }

        if (measured.Find(desk.Kind, picture, PictureQuery.From(request.Query)) is not { } result)
        {
            return Results.StatusCode(StatusCodes.Status409Conflict);
        }

        PixelBox view = Box(box, result.Metadata);
        Particle[] seen = [.. result.ParticleList.Where(p => p.Box.X < view.Right && p.Box.Right > view.X && p.Box.Y < view.Bottom && p.Box.Bottom > view.Y)];
        Particle[] drawn = seen.Length <= MostInView ? seen : [.. seen.OrderByDescending(p => p.Area).Take(MostInView)];
        bool outlined = drawn.Length <= MostOutlined && drawn.Sum(p => (long)p.Pixels) <= MostOutlinedPixels;
        return Results.Json(new { inView = seen.Length, items = drawn.Select(p => Item(p, 1, outlined)) });
    }

    private static IResult Preview(string key, string? box, Desk desk, PictureTray tray, ViewedPictures viewed, HttpRequest request)
    {
        if (PictureAt.TryFind(key, desk, tray) is not { } picture)
        {
            return Results.NotFound();
        }

        PictureQuery query = PictureQuery.From(request.Query);
        try
        {
            MeasurementOptions options = query.Options(picture.Record?.MicrometresPerPixel) with { KeepMasks = true };
            PictureTiles tiles = viewed.Tiles(picture);
            // Examples are spread over the picture, so only the whole of it can be told by them.
            bool whole = (long)tiles.Width * tiles.Height <= PicturePreview.UsualPixels || options.Settings.Examples.Count > 0;
            PixelBox part = whole ? new(0, 0, tiles.Width, tiles.Height) : PartPreview.MiddleOf(Box(box, tiles.Metadata));
            (PictureResult result, int factor) = whole ? Whole(viewed.Preview(picture).Measure(options, request.HttpContext.RequestAborted))
                : (PartPreview.Measure(viewed.Part(picture, part), part, options, request.HttpContext.RequestAborted), 1);
            Particle[] drawn = [.. result.ParticleList.OrderByDescending(p => p.Area).Take(MostInView)];
            bool outlined = drawn.Length <= MostOutlined && drawn.Sum(p => (long)p.Pixels) <= MostOutlinedPixels;
            return Results.Json(new
            {
                items = drawn.Select(p => Item(p, factor, outlined, part.X, part.Y)),
                part = whole ? null : new[] { part.X, part.Y, part.Width, part.Height },
                says = Says(result, whole ? factor > 1 ? $", shrunk {factor} times" : "" : " of the framed part", query, desk.Written),
            });
        }
        catch (Exception fault) when (fault is UnusableAreaException or UnreadablePictureException)
        {
            return Results.Text(fault.Message, "text/plain; charset=utf-8", statusCode: StatusCodes.Status422UnprocessableEntity);
        }
        catch (OperationCanceledException)
        {
            // The page asked for something newer.
            return Results.StatusCode(StatusCodes.Status499ClientClosedRequest);
        }
    }

    private static (PictureResult Result, int Factor) Whole(PreviewResult preview) => (preview.Result, preview.Factor);

    private static string Says(PictureResult result, string of, PictureQuery query, Written written) => string.Join(' ', query.Faults.Prepend(
        $"Preview{of}: {Written.Figure(result.Count)} particles on {written.Number(100 * result.AreaFraction.Estimate, 2)}\u00A0% of the area, threshold {written.Number(result.Settings.Level ?? 0, 1)}. Measure it in full for figures to keep."));

    // An array rather than names: thousands are sent each time the view is moved.
    private static object?[] Item(Particle p, int factor, bool outlined, int left = 0, int top = 0)
    {
        double f = factor;
        return
        [
            p.Number, R((p.X * f) + left), R((p.Y * f) + top), R(p.MajorAxis * f), R(p.MinorAxis * f), R(p.AngleDegrees), p.Cut ? 1 : 0, R(p.EquivalentDiameter * f), R(p.FeretMax * f), R(p.FeretMin * f), R(p.Area * f * f), R(p.MeanGrey),
            p.GreyClass, outlined && p.Mask.Count > 0 ? ParticleOutline.Of(p.Mask).Select(loop => loop.SelectMany(c => (double[])[(c.X * f) + left, (c.Y * f) + top])) : null,
        ];
    }

    private static double R(double value) => Math.Round(value, 2);

    private static PixelBox Box(string? text, PictureMetadata size)
    {
        int[] v = [.. (text ?? "").Split(',').Select(t => int.TryParse(t, NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : -1)];
        PixelBox frame = new(0, 0, size.Width, size.Height);
        PixelBox asked = v is [>= 0, >= 0, >= 0, >= 0] ? new PixelBox(v[0], v[1], Math.Min(v[2], size.Width), Math.Min(v[3], size.Height)).Intersect(frame) : frame;
        return asked.Area > 0 ? asked : frame;
    }
}
