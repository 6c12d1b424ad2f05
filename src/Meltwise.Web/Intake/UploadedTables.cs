using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Intake;

/// <summary>Takes an uploaded table onto the tray and leads to its preview.</summary>
internal static class UploadedTables
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapPost("/intake/upload", Answer);

    private static async Task<IResult> Answer(IFormFile? file, IntakeTray tray, HttpContext context)
    {
        if (file is null || file.FileName.Length == 0)
        {
            return Results.LocalRedirect($"{context.Request.PathBase}/intake?nothing=true");
        }

        using var content = new MemoryStream();
        await file.CopyToAsync(content, context.RequestAborted).ConfigureAwait(false);
        return Results.LocalRedirect($"{context.Request.PathBase}/intake/{tray.Put(file.FileName, content.ToArray())}");
    }
}
