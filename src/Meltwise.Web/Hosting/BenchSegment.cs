using Microsoft.AspNetCore.Http;

namespace Meltwise.Web.Hosting;

/// <summary>Which bench a page is about.</summary>
internal enum BenchKind
{
    /// <summary>The person's own bench.</summary>
    Own,

    /// <summary>The invented demonstration bench.</summary>
    Demo,
}

/// <summary>Takes the bench from the first segment of the address (<c>/own/…</c>, <c>/demo/…</c>), so that two tabs can never write into each other's bench.</summary>
internal sealed class BenchSegment(RequestDelegate next)
{
    public const string Own = "/own";
    public const string Demo = "/demo";

    public Task InvokeAsync(HttpContext context, WorkbenchOptions options)
    {
        foreach ((string segment, BenchKind kind) in ((string, BenchKind)[])[(Own, BenchKind.Own), (Demo, BenchKind.Demo)])
        {
            if (context.Request.Path.StartsWithSegments(segment, StringComparison.OrdinalIgnoreCase, out PathString rest))
            {
                if (!rest.HasValue)
                {
                    context.Response.Redirect(segment + "/");
                    return Task.CompletedTask;
                }

                context.Request.PathBase = segment;
                context.Request.Path = rest;
                context.Features.Set(new ChosenBench(kind));
                return next(context);
            }
        }

        if (context.Request.Path == "/")
        {
            bool ownExists = File.Exists(options.BenchPath);
            context.Response.Redirect((ownExists || options.DemoPath is null ? Own : Demo) + "/");
            return Task.CompletedTask;
        }

        return next(context);
    }
}

/// <summary>The bench that the address names.</summary>
internal sealed record ChosenBench(BenchKind Kind);
