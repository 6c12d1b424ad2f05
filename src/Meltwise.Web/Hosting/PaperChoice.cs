using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Meltwise.Web.Hosting;

/// <summary>Light, dark, or as the system has it: kept in a cookie, so that a page is printed on the right paper from its first byte.</summary>
internal static class PaperChoice
{
    private const string Cookie = "meltwise-paper";

    /// <summary>The chosen paper: <c>light</c>, <c>dark</c> or <c>system</c>.</summary>
    public static string Of(HttpContext context) => context.Request.Cookies[Cookie] is "light" or "dark" ? context.Request.Cookies[Cookie]! : "system";

    public static void Map(IEndpointRouteBuilder routes) => routes.MapPost("/paper", Answer);

    private static IResult Answer([FromForm] string paper, [FromForm] string back, HttpContext context)
    {
        string chosen = paper is "light" or "dark" ? paper : "system";
        context.Response.Cookies.Append(Cookie, chosen, new CookieOptions
        {
            Path = "/",
            SameSite = SameSiteMode.Strict,
            MaxAge = TimeSpan.FromDays(3650),
            IsEssential = true,
        });
        return Results.LocalRedirect(back.StartsWith('/') && !back.StartsWith("//", StringComparison.Ordinal) ? back : "/");
    }
}
