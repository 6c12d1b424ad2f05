using Meltwise.Casework.Recording;
using Meltwise.Casework.Trending;
using Meltwise.Domain;
using Meltwise.Web.Hosting;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Trend;

/// <summary>The trend figure as a file to take along, under the same choice as the page.</summary>
internal static class TrendFiles
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/trend/{file}", Answer);

    /// <summary>The address of the figure's files for a choice, to which the ending is added.</summary>
    public static string AddressOf(TrendChoice choice, string? enquiry) =>
        "trend/" + Uri.EscapeDataString(string.Join('~', choice.Property, choice.Grade, choice.Route, choice.Orientation, choice.Geometry, choice.TemperFamily, enquiry));

    private static IResult Answer(string file, HttpRequest request, Desk desk)
    {
        string[] parts = Path.GetFileNameWithoutExtension(file).Split('~');
        if (parts.Length != 7 || !desk.HasBench || PropertyTable.Find(parts[0]) is not { } property)
        {
            return Results.NotFound();
        }

        string? Said(int i) => parts[i].Length == 0 ? null : parts[i];
        BenchTrend trend = BenchTrend.Of(
            desk.Bench.CouponTable(new CouponSelection(Property: property.Name)), new(property.Name, Said(1), Said(2), Said(3), Said(4), Said(5)));
        return trend.Points.Count == 0 ? Results.NotFound() : FigureFiles.AsFile(TrendDrawing.Of(trend, property, desk.Bench, Said(6)), "trend" + Path.GetExtension(file), "trend", request.Query);
    }
}
