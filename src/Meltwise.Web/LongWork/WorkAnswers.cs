using Meltwise.Web.Hosting;
using Meltwise.Web.Page;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.LongWork;

/// <summary>How far a piece of work has come, for the page's script, and the button that stops it.</summary>
internal static class WorkAnswers
{
    /// <summary>The address that tells how far the work has come.</summary>
    public static string AddressOf(WorkInHand work) => $"work/{work.Id}.json";

    /// <summary>The address to which the stop button is sent.</summary>
    public static string StopOf(WorkInHand work) => $"work/{work.Id}/stop";

    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/work/{id}.json", Tell);
        routes.MapPost("/work/{id}/stop", Stop);
    }

    private static IResult Tell(string id, Desk desk, Workroom room, HttpResponse response)
    {
        response.Headers.CacheControl = "no-store";
        return room.FindById(desk.Kind, id) is { } work
            ? Results.Json(new Told(work.State == WorkState.Running, work.Fraction, work.Words))
            : Results.Json(new Told(false, 1, "It has ended."));
    }

    // Waits a moment for the work to let go, so that the page that comes next can already say that it stopped.
    private static async Task<IResult> Stop(string id, [FromForm] string back, Desk desk, Workroom room, HttpContext context)
    {
        if (room.FindById(desk.Kind, id) is { } work)
        {
            work.Stop();
            await Task.WhenAny(work.Settled, Task.Delay(TimeSpan.FromSeconds(3), context.RequestAborted)).ConfigureAwait(false);
        }

        string to = back.StartsWith('/') || back.Contains("//", StringComparison.Ordinal) ? "" : back;
        return Results.LocalRedirect($"{context.Request.PathBase}/{to}");
    }

    private sealed record Told(bool Running, double Fraction, string Says);
}
