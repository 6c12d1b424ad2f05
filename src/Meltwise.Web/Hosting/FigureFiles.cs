using System.Text;
using Meltwise.Publishing.Figures;
using Meltwise.Web.Enquiries;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Hosting;

/// <summary>Figures as files to take along: SVG, PNG at slide size, or their data.</summary>
internal static class FigureFiles
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/enquiries/{name}/figures/{file}", Answer);

    /// <summary>A figure in the form that the ending of the file name asks for.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="file">Name of the file.</param>
    /// <param name="id">Identity of the figure in its page.</param>
    /// <param name="asked">The limits that a reader dragged, when the page asks for the drawing.</param>
    public static IResult AsFile(Figure figure, string file, string id, IQueryCollection asked) => Path.GetExtension(file) switch
    {
        ".svg" => Results.Bytes(Encoding.UTF8.GetBytes(FigureSvg.Write(figure, FigureSvgOptions.AsFile)), "image/svg+xml", file),
        ".png" => Results.Bytes(FigurePng.Write(figure), "image/png", file),
        ".csv" => Results.Bytes(Encoding.UTF8.GetBytes(FigureCsv.Write(figure.Data)), "text/csv; charset=utf-8", file),
        FigureZoom.Ending => FigureZoom.Answer(figure, id, asked),
        _ => Results.NotFound(),
    };

    private static IResult Answer(string name, string file, HttpRequest request, Desk desk, FigureShelf figures)
    {
        EnquiryView? view = desk.HasBench ? EnquiryView.Find(desk.Bench, name) : null;
        return view is { Verdict: { } verdict, VerdictDocument: { } document }
            && figures.Of(desk.Bench, document, verdict).FirstOrDefault(f => f.Name == Path.GetFileNameWithoutExtension(file)) is { } found
            ? AsFile(found.Figure, file, "fig-" + found.Name, request.Query)
            : Results.NotFound();
    }
}
