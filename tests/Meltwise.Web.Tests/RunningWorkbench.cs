using Meltwise.Casework.Demonstration;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage;
using Microsoft.AspNetCore.Builder;

namespace Meltwise.Web.Tests;

/// <summary>A workbench that runs on a free loopback port, over a demonstration bench and an own bench in a folder of its own.</summary>
public sealed class RunningWorkbench : IAsyncDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("meltwise-web-").FullName;
    private WebApplication? _app;
    private int _port;

    public string OwnPath => Path.Combine(_folder, "own.meltwise");

    public string DemoPath => Path.Combine(_folder, "demo.meltwise");

    public string Folder => _folder;

    public Uri Address { get; private set; } = null!;

    /// <summary>Starts it. The demonstration bench is made from the shipped scenario; the own bench holds what the test gives. Pictures are drawn into the demonstration only when asked for, since that takes a while.</summary>
    public static async Task<RunningWorkbench> Start(bool demonstration = true, IEnumerable<BenchChange>? own = null, bool pictures = false)
    {
        var running = new RunningWorkbench();
        if (demonstration)
        {
            using IBench demo = BenchFile.Create(running.DemoPath, isDemonstration: true);
            demo.Commit(DemonstrationBench.Author, DemonstrationBench.Reason, DemonstrationBench.Changes());
            if (pictures)
            {
                DemonstrationPictures.AddTo(demo);
            }

            foreach (Enquiry enquiry in demo.Enquiries())
            {
                demo.Commit(DemonstrationBench.Author, DemonstrationBench.Reason, EnquiryJudgement.Keep(enquiry, EnquiryJudgement.Judge(demo, enquiry), DateTime.UtcNow));
            }
        }

        if (own is not null)
        {
            using IBench bench = BenchFile.Create(running.OwnPath, isDemonstration: false);
            bench.Commit("test", null, own);
        }

        await running.Up();
        return running;
    }

    /// <summary>Starts the server, on the port it had before.</summary>
    public async Task Up()
    {
        _app = Workbench.Create(new WorkbenchOptions { BenchPath = OwnPath, DemoPath = DemoPath, Port = _port, MachineFolder = Path.Combine(_folder, "machine") });
        await _app.StartAsync();
        Address = Workbench.AddressOf(_app);
        _port = Address.Port;
    }

    /// <summary>Takes the server away, as a crash would.</summary>
    public async Task Down()
    {
        using var now = new CancellationTokenSource();
        await now.CancelAsync();
        await _app!.StopAsync(now.Token);
        await _app.DisposeAsync();
        _app = null;
    }

    /// <summary>The own bench, read beside the running server.</summary>
    public T Own<T>(Func<IBench, T> read)
    {
        using IBench bench = BenchFile.Open(OwnPath);
        return read(bench);
    }

    public async ValueTask DisposeAsync()
    {
        if (_app is not null)
        {
            await Down();
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }
}
