using System.Security.Cryptography;
using System.Text;
using Meltwise.Publishing.Figures;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Hosting;

/// <summary>Keeps the figures that pages have just drawn, so that each can be zoomed and taken along without being worked out again. A figure is found by the digest of its drawing.</summary>
internal sealed class DrawnFigures
{
    private const int Most = 96;
    private readonly Lock _lock = new();
    private readonly Dictionary<string, Figure> _kept = new(StringComparer.Ordinal);
    private readonly Queue<string> _order = new();

    /// <summary>Keeps a figure and gives the address of its files, without ending.</summary>
    public string Keep(Figure figure)
    {
        string digest = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(FigureSvg.Write(figure) + FigureCsv.Write(figure.Data))))[..20];
        lock (_lock)
        {
            if (_kept.TryAdd(digest, figure))
            {
                _order.Enqueue(digest);
            }

            while (_order.Count > Most)
            {
                _kept.Remove(_order.Dequeue());
            }
        }

        return "figures/" + digest;
    }

    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/figures/{file}", Answer);

    private static IResult Answer(string file, string? id, HttpRequest request, DrawnFigures drawn) =>
        drawn.Find(Path.GetFileNameWithoutExtension(file)) is { } figure
            ? FigureFiles.AsFile(figure, "figure" + Path.GetExtension(file), id ?? "figure", request.Query)
            : Results.Text("This figure is not kept any more. Load its page again, then take it.", "text/plain; charset=utf-8", statusCode: StatusCodes.Status404NotFound);

    private Figure? Find(string digest)
    {
        lock (_lock)
        {
            return _kept.GetValueOrDefault(digest);
        }
    }
}
