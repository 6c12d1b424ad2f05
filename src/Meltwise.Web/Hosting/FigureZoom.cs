using System.Globalization;
using System.Text;
using Meltwise.Publishing.Figures;
using Microsoft.AspNetCore.Http;

namespace Meltwise.Web.Hosting;

/// <summary>Redraws a figure of the page within the limits that a reader dragged; without limits, as it was.</summary>
internal static class FigureZoom
{
    /// <summary>Ending of the address that redraws a figure.</summary>
    public const string Ending = ".view";

    /// <summary>Options of a figure in the page that can be zoomed.</summary>
    /// <param name="id">Identity in the page.</param>
    /// <param name="files">Address of its files, without ending.</param>
    public static FigureSvgOptions Options(string id, string files) => new() { Id = id, Redraw = files + Ending };

    /// <summary>The drawing alone.</summary>
    public static IResult Answer(Figure figure, string id, IQueryCollection asked) =>
        TryView(figure, asked, out Dictionary<int, AxisView>? views)
            ? Results.Bytes(Encoding.UTF8.GetBytes(FigureSvg.Write(figure, new FigureSvgOptions { Id = id, Views = views })), "image/svg+xml")
            : Results.Text("A view has a panel of the figure, and limits of both axes with the lower one first.", "text/plain; charset=utf-8", statusCode: StatusCodes.Status400BadRequest);

    private static bool TryView(Figure figure, IQueryCollection asked, out Dictionary<int, AxisView>? views)
    {
        views = null;
        if (!asked.ContainsKey("panel"))
        {
            return true;
        }

        double[] limits = [.. new[] { "xMin", "xMax", "yMin", "yMax" }.Select(name => Number(asked[name]))];
        if (!int.TryParse(asked["panel"], NumberStyles.None, CultureInfo.InvariantCulture, out int panel) || panel >= figure.Panels.Count || !(limits[0] < limits[1] && limits[2] < limits[3]))
        {
            return false;
        }

        Panel shown = figure.Panels[panel];
        if ((shown.X.Scale == AxisScale.Logarithmic && limits[0] <= 0) || (shown.Y.Scale == AxisScale.Logarithmic && limits[2] <= 0))
        {
            return false;
        }

        views = new() { [panel] = new(limits[0], limits[1], limits[2], limits[3]) };
        return true;
    }

    private static double Number(string? text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : double.NaN;
}
