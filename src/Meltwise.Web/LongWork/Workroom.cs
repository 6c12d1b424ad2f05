using Meltwise.Casework.Recording;
using Meltwise.Web.Hosting;
using Microsoft.Extensions.Logging;

namespace Meltwise.Web.LongWork;

/// <summary>Where long work is done beside the pages: started once for a bench and a subject, seen from every page that asks, stopped by the person or with the program.</summary>
/// <remarks>
/// A page starts work and is answered at once. While it runs, the page shows <c>WorkShown</c>; when it is done the page finds either a stored document, or the result here.
/// The same subject is never worked on twice at a time. A few pieces of work run beside each other, the others wait. Ended work is kept until it is shown or <see cref="MostKept"/> others have ended.
/// </remarks>
internal sealed class Workroom(BenchShelf shelf, ILogger<Workroom> log) : IDisposable
{
    private const int MostAtOnce = 2;
    private const int MostKept = 24;
    private static readonly TimeSpan s_goodbye = TimeSpan.FromSeconds(5);

    private readonly Lock _lock = new();
    private readonly List<((BenchKind Bench, string Subject) Key, WorkInHand Work)> _works = [];
    private readonly SemaphoreSlim _places = new(MostAtOnce);
    private int _last;

    /// <summary>The work on a subject, running or ended; null when there is none.</summary>
    public WorkInHand? Find(BenchKind bench, string subject)
    {
        lock (_lock)
        {
            return _works.Find(w => w.Key == (bench, subject)).Work;
        }
    }

    /// <summary>The work of a name as addresses carry it; null when there is none on that bench.</summary>
    public WorkInHand? FindById(BenchKind bench, string id)
    {
        lock (_lock)
        {
            return _works.Find(w => w.Key.Bench == bench && w.Work.Id == id).Work;
        }
    }

    /// <summary>What runs on a bench.</summary>
    public IReadOnlyList<WorkInHand> Running(BenchKind bench)
    {
        lock (_lock)
        {
            return [.. _works.Where(w => w.Key.Bench == bench && w.Work.State == WorkState.Running).Select(w => w.Work)];
        }
    }

    /// <summary>Starts work on a subject, or gives the work that already runs on it. Work on it that has ended is let go.</summary>
    /// <param name="bench">Which bench.</param>
    /// <param name="subject">What it is about; with the bench the key of the work, so it must carry everything on which the result depends.</param>
    /// <param name="title">What it is, in words.</param>
    /// <param name="backTo">Address of the page that shows it, relative to the bench.</param>
    /// <param name="work">The work; runs on a thread of its own. It throws <see cref="WorkRefusedException"/> or <see cref="BenchException"/> when it cannot be done.</param>
    public WorkInHand Start(BenchKind bench, string subject, string title, string backTo, Func<WorkTools, object?> work)
    {
        WorkInHand started;
        lock (_lock)
        {
            int at = _works.FindIndex(w => w.Key == (bench, subject));
            if (at >= 0 && _works[at].Work.State == WorkState.Running)
            {
                return _works[at].Work;
            }

            if (at >= 0)
            {
                LetGo(at);
            }

            started = new WorkInHand((++_last).ToString(System.Globalization.CultureInfo.InvariantCulture), title, backTo);
            _works.Add(((bench, subject), started));
            DropOld();
        }

        _ = Task.Run(() => Do(bench, started, work));
        return started;
    }

    /// <summary>Lets ended work go, once the person has been told.</summary>
    public void LetGo(WorkInHand work)
    {
        lock (_lock)
        {
            int at = _works.FindIndex(w => w.Work == work);
            if (at >= 0 && work.State != WorkState.Running)
            {
                LetGo(at);
            }
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        WorkInHand[] works;
        lock (_lock)
        {
            works = [.. _works.Select(w => w.Work)];
        }

        foreach (WorkInHand work in works)
        {
            work.Stop();
        }

        Task.WaitAll([.. works.Select(w => w.Settled)], s_goodbye);
    }

    private void LetGo(int at)
    {
        _works[at].Work.Dispose();
        _works.RemoveAt(at);
    }

    private void DropOld()
    {
        for (int at = 0; at < _works.Count && _works.Count > MostKept;)
        {
            if (_works[at].Work.State == WorkState.Running)
            {
                at++;
            }
            else
            {
                LetGo(at);
            }
        }
    }

    private async Task Do(BenchKind bench, WorkInHand work, Func<WorkTools, object?> todo)
    {
        try
        {
            await _places.WaitAsync(work.Cancel).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            work.End(WorkState.Stopped, null, null);
            return;
        }

        try
        {
            work.Begin();
            work.End(WorkState.Done, OnOwnBench(bench, work, todo), null);
        }
        catch (OperationCanceledException)
        {
            work.End(WorkState.Stopped, null, null);
        }
        catch (Exception told) when (told is WorkRefusedException or BenchException)
        {
            work.End(WorkState.Refused, null, told.Message);
        }
        catch (Exception fault)
        {
            // The boundary of a thread of its own: nobody else would hear of it.
            WorkLog.Failed(log, work.Title, fault);
            work.End(WorkState.Refused, null, $"The program failed at this: {work.Title}. Nothing was stored; the terminal in which Meltwise was started says where.");
        }
        finally
        {
            _places.Release();
        }
    }

    private object? OnOwnBench(BenchKind kind, WorkInHand work, Func<WorkTools, object?> todo)
    {
        IBench bench = shelf.Take(kind);
        try
        {
            return todo(new(bench, work, work.Cancel));
        }
        finally
        {
            shelf.PutBack(kind, bench);
        }
    }
}

/// <summary>What the workroom tells the terminal.</summary>
internal static partial class WorkLog
{
    [LoggerMessage(Level = LogLevel.Error, Message = "Failed: {Title}")]
    public static partial void Failed(ILogger logger, string title, Exception fault);
}
