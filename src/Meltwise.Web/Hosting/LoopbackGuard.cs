using System.Net;
using Microsoft.AspNetCore.Http;

namespace Meltwise.Web.Hosting;

/// <summary>Answers only requests that this machine's own pages make: a foreign <c>Host</c> (a name bent to point here) or a foreign <c>Origin</c> is refused.</summary>
internal sealed class LoopbackGuard(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext context)
    {
        HttpRequest request = context.Request;
        if (!IsLoopback(request.Host) || !IsOwnOrigin(request) || IsEmbeddedElsewhere(request))
        {
            return Refuse(context);
        }

        IHeaderDictionary headers = context.Response.Headers;
        headers.ContentSecurityPolicy =
            "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; frame-ancestors 'none'; form-action 'self'; base-uri 'self'; object-src 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        return next(context);
    }

    private static bool IsLoopback(HostString host) =>
        string.Equals(host.Host, "localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Host, out IPAddress? ip) && IPAddress.IsLoopback(ip));

    private static bool IsOwnOrigin(HttpRequest request)
    {
        string? origin = request.Headers.Origin;
        return string.IsNullOrEmpty(origin) || string.Equals(origin, $"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase);
    }

    // Browsers say where a request comes from. Following a link from elsewhere is fine; being loaded into a foreign page, or sent a form by it, is not.
    private static bool IsEmbeddedElsewhere(HttpRequest request)
    {
        string? site = request.Headers["Sec-Fetch-Site"];
        bool foreign = site is "cross-site" or "same-site";
        bool followedLink = request.Headers["Sec-Fetch-Mode"] == "navigate" && HttpMethods.IsGet(request.Method);
        return foreign && !followedLink;
    }

    private static Task Refuse(HttpContext context)
    {
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(
            "The workbench answers only this machine's own pages. This request named another host or came from another site; nothing was read or changed. Open the address that meltwise start printed.");
    }
}
