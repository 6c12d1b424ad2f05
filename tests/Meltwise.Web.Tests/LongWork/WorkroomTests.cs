using Meltwise.Casework.Recording;
using Meltwise.Storage;
using Meltwise.Web.Hosting;
using Meltwise.Web.LongWork;
using Microsoft.Extensions.Logging.Abstractions;
using Xunit;

namespace Meltwise.Web.Tests.LongWork;

/// <summary>Long work beside the pages: begun once, stopped, refused in words, and never lost with its reason.</summary>
public sealed class WorkroomTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("meltwise-work-").FullName;
    private readonly BenchShelf _shelf;
    private readonly Workroom _room;

    public WorkroomTests()
    {
        string path = Path.Combine(_folder, "own.meltwise");
        using (IBench made = BenchFile.Create(path, isDemonstration: false))
        {
            Assert.Equal(0, made.Card.Heats);
        }

        _shelf = new(new WorkbenchOptions { BenchPath = path }, new BenchFiles());
        _room = new(_shelf, NullLogger<Workroom>.Instance);
    }

    [Fact]
    public async Task The_same_subject_is_worked_on_once_and_its_result_is_kept()
    {
        using ManualResetEventSlim go = new();
        int runs = 0;
        object Todo(WorkTools tools)
        {
            go.Wait(tools.Cancel);
            return Interlocked.Increment(ref runs) + tools.Bench.Card.Heats;
        }

        WorkInHand first = Start("sum", Todo), second = Start("sum", Todo);
        Assert.Same(first, second);
        Assert.Equal(["sum"], _room.Running(BenchKind.Own).Select(w => w.Title));
        Assert.Empty(_room.Running(BenchKind.Demo));
        go.Set();
        await Ended(first);
        Assert.Equal((WorkState.Done, 1), (first.State, (int)first.Result!));
        Assert.Same(first, _room.Find(BenchKind.Own, "sum"));
        Assert.NotSame(first, Start("sum", Todo));
    }

    [Fact]
    public async Task Stopped_work_says_so_whether_it_runs_or_waits()
    {
        WorkInHand[] works = [.. Enumerable.Range(0, 4).Select(i => Start($"endless {i}", Endless))];
        foreach (WorkInHand work in works)
        {
            work.Stop();
            await Ended(work);
            Assert.Equal(WorkState.Stopped, work.State);
            Assert.Equal("Stopped. Nothing was stored.", work.Words);
        }
    }

    [Fact]
    public async Task What_cannot_be_done_is_told_and_a_fault_is_not_shown_raw()
    {
        WorkInHand refused = Start("refused", _ => throw new WorkRefusedException("The treatment is missing."));
        WorkInHand failed = Start("sweep of K17", _ => throw new InvalidOperationException("index was out of range"));
        await Ended(refused);
        await Ended(failed);
        Assert.Equal("The treatment is missing.", refused.Words);
        Assert.DoesNotContain("index", failed.Words, StringComparison.Ordinal);
        Assert.Contains("sweep of K17. Nothing was stored", failed.Words, StringComparison.Ordinal);
        _room.LetGo(refused);
        Assert.Null(_room.Find(BenchKind.Own, "refused"));
    }

    [Fact]
    public void The_share_done_never_goes_back()
    {
        using WorkInHand work = new("1", "sum", "");
        foreach (double share in (double[])[0.2, 0.1, double.NaN, 0.4, 7])
        {
            double before = work.Fraction;
            work.Report(share);
            Assert.InRange(work.Fraction, before, 1);
        }

        Assert.Equal(1, work.Fraction);
    }

    [Theory]
    [InlineData(0.2, "about 1 s")]
    [InlineData(8.1, "about 9 s")]
    [InlineData(21, "about 25 s")]
    [InlineData(61, "about 2 min")]
    [InlineData(7300, "about 3 h")]
    public void Time_left_is_rounded_up(double seconds, string words) => Assert.Equal(words, WorkInHand.InWords(TimeSpan.FromSeconds(seconds)));

    [Fact]
    public async Task Ended_work_does_not_pile_up()
    {
        for (int i = 0; i < 60; i++)
        {
            await Ended(Start($"quick {i}", _ => i));
        }

        Assert.Null(_room.Find(BenchKind.Own, "quick 0"));
        Assert.NotNull(_room.Find(BenchKind.Own, "quick 59"));
    }

    public void Dispose()
    {
        _room.Dispose();
        _shelf.Dispose();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    private WorkInHand Start(string subject, Func<WorkTools, object?> todo) => _room.Start(BenchKind.Own, subject, subject, "", todo);

    private static object? Endless(WorkTools tools)
    {
        tools.Cancel.WaitHandle.WaitOne();
        throw new OperationCanceledException(tools.Cancel);
    }

    private static Task Ended(WorkInHand work) => work.Settled.WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken);
}
