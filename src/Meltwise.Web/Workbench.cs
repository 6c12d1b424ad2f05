using System.Net;
using Meltwise.Casework.Recording;
using Meltwise.Web.Enquiries;
using Meltwise.Web.Hosting;
using Meltwise.Web.Intake;
using Meltwise.Web.LongWork;
using Meltwise.Web.Page;
using Meltwise.Web.Pictures;
using Meltwise.Web.Planner;
using Meltwise.Web.Settings;
using Meltwise.Web.Trend;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace Meltwise.Web;

/// <summary>The workbench: a web application on this machine's loopback address, for one person at their bench.</summary>
public static class Workbench
{
    private const long LargestUploadBytes = 256L << 20;

    /// <summary>Serves the workbench until <paramref name="stop"/> is signalled.</summary>
    /// <exception cref="IOException">The port is taken.</exception>
    public static async Task Run(WorkbenchOptions options, CancellationToken stop)
    {
        await using WebApplication app = Create(options);
        await app.StartAsync(stop).ConfigureAwait(false);
        Uri address = AddressOf(app);
        options.Announce?.Invoke(address);
        if (options.OpenBrowser)
        {
            DesktopBrowser.Open(address);
        }

        await app.WaitForShutdownAsync(stop).ConfigureAwait(false);
    }

    /// <summary>Builds the application without starting it.</summary>
    public static WebApplication Create(WorkbenchOptions options)
    {
        // The content root is the program's folder, never the current one: the person may start the program anywhere.
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.Logging.ClearProviders().AddConsole(o => o.LogToStandardErrorThreshold = LogLevel.Trace).SetMinimumLevel(LogLevel.Error)
            // A port that is taken is told in a sentence by whoever started the workbench, not by a trace of the host.
            .AddFilter("Microsoft.Extensions.Hosting", LogLevel.None);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LargestUploadBytes;
            kestrel.Listen(IPAddress.Loopback, options.Port);
        });
        AddServices(builder.Services, options);

        WebApplication app = builder.Build();
        app.UseMiddleware<LoopbackGuard>();
        app.UseExceptionHandler("/fault", createScopeForErrors: true);
        app.UseMiddleware<BenchSegment>();
        app.UseWhen(
            c => HttpMethods.IsGet(c.Request.Method) && c.Features.Get<ChosenBench>() is not null,
            named => named.UseStatusCodePagesWithReExecute("/nothing-here", createScopeForStatusCodePages: true));
        app.UseRouting();
        app.UseAntiforgery();
        PrintedMatter.Map(app);
        PaperChoice.Map(app);
        FigureFiles.Map(app);
        DrawnFigures.Map(app);
        ReportFiles.Map(app);
        BenchPapers.Map(app);
        PlannerPapers.Map(app);
        BenchCopy.Map(app);
        UploadedTables.Map(app);
        TrendFiles.Map(app);
        PictureFiles.Map(app);
        PictureUploads.Map(app);
        FurnaceTraceFiles.Map(app);
        ViewerFiles.Map(app);
        WorkAnswers.Map(app);
        app.MapRazorComponents<App>();
        return app;
    }

    /// <summary>Where a started workbench answers.</summary>
    public static Uri AddressOf(WebApplication app) =>
        new(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());

    private static void AddServices(IServiceCollection services, WorkbenchOptions options)
    {
        string machineFolder = options.MachineFolder
            ?? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create), "meltwise");
        Directory.CreateDirectory(machineFolder);

        services.AddSingleton(options);
        services.AddSingleton<IBenchOpener, BenchFiles>();
        services.AddSingleton<BenchShelf>();
        services.AddSingleton<ReadingHistory>();
        services.AddSingleton<FigureShelf>();
        services.AddSingleton<DrawnFigures>();
        services.AddSingleton<Workroom>();
        services.AddSingleton(new IntakeTray(Path.Combine(machineFolder, "tray")));
        services.AddSingleton(new PictureTray(Path.Combine(machineFolder, "pictures")));
        services.AddSingleton(new ViewedPictures(Path.Combine(machineFolder, "levels")));
        services.AddSingleton<MeasuredPictures>();
        services.AddSingleton(new SettingsFile(Path.Combine(machineFolder, "workbench.json")));
        services.AddScoped<Desk>();
        services.AddRazorComponents();
        services.AddHttpContextAccessor();
        services.Configure<FormOptions>(o => o.MultipartBodyLengthLimit = LargestUploadBytes);

        // Keys are kept, so that a form left open while the program was stopped can still be sent after it starts again.
        services.AddDataProtection().SetApplicationName("meltwise").PersistKeysToFileSystem(new DirectoryInfo(Path.Combine(machineFolder, "keys")));
        services.AddAntiforgery(o =>
        {
            o.Cookie.Name = "meltwise-forms";
            o.Cookie.Path = "/";
            o.Cookie.SameSite = SameSiteMode.Strict;
        });
    }
}
