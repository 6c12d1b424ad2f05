using System.Globalization;
using System.IO.Compression;
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
    private const string CopyName = "copy";

    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/settings/copy.meltwise", Answer);

    private static IResult Answer(Desk desk, IBenchOpener benches)
    {
        if (!desk.HasBench)
        {
            return Results.NotFound();
        }

        string folder = Directory.CreateTempSubdirectory("meltwise-copy-").FullName;
        string path = Path.Combine(folder, CopyName);
        try
        {
            benches.Copy(desk.Bench, path);
            string name = string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(desk.Bench.Card.Place)}-{DateTime.Now:yyyyMMdd-HHmmss}.meltwise");
            return Directory.EnumerateFileSystemEntries(folder).Count() == 1
                ? Results.File(new MemoryStream(File.ReadAllBytes(path)), "application/octet-stream", name)
                : Results.File(WithPictures(folder, name), "application/zip", name + ".zip");
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

    // The bench and its folder of pictures, under names that belong together. The zip lies on disk, for it may be large, and goes with its handle.
    private static FileStream WithPictures(string folder, string name)
    {
        FileStream zip = new(Path.Combine(Path.GetTempPath(), $"meltwise-copy-{Guid.NewGuid():N}.zip"), FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose);
        using (ZipArchive archive = new(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (string file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
            {
                string inside = Path.GetRelativePath(folder, file).Replace('\\', '/');
                archive.CreateEntryFromFile(file, name + inside[CopyName.Length..], inside == CopyName ? CompressionLevel.Fastest : CompressionLevel.NoCompression);
            }
        }

        zip.Position = 0;
        return zip;
    }
}
