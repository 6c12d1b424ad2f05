using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Web.Hosting;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Settings;

/// <summary>A consistent copy of the bench to take along, made while it is in use.</summary>
internal static class BenchCopy
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/settings/copy.meltwise", Answer);

    private static IResult Answer(Desk desk, IBenchOpener benches)
    {
        if (!desk.HasBench)
        {
            return Results.NotFound();
        }

        string folder = Directory.CreateTempSubdirectory("meltwise-copy-").FullName;
        string path = Path.Combine(folder, "copy");
        try
        {
            benches.Copy(desk.Bench, path);
            var content = new MemoryStream(File.ReadAllBytes(path));
            string name = string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(desk.Bench.Card.Place)}-{DateTime.Now:yyyyMMdd-HHmmss}.meltwise");
            return Results.File(content, "application/octet-stream", name);
        }
        catch (BenchException told)
        {
            return Results.Text(told.Message, "text/plain; charset=utf-8", statusCode: StatusCodes.Status409Conflict);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
