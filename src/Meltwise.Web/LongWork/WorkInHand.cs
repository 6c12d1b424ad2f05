using System.Diagnostics;

namespace Meltwise.Web.LongWork;

/// <summary>How far a piece of work has come.</summary>
public enum WorkState
{
    /// <summary>Waits for a place, or is being done.</summary>
    Running,

    /// <summary>Done; what it gave is in <see cref="WorkInHand.Result"/>, or stored by the work itself.</summary>
    Done,

    /// <summary>Stopped by the person; nothing was stored.</summary>
    Stopped,

    /// <summary>Not done; <see cref="WorkInHand.Says"/> tells why.</summary>
    Refused,
}

/// <summary>A piece of long work: what it is, how far it has come, how long it will still take.</summary>
/// <param name="id">Its name in addresses.</param>
/// <param name="title">What it is, such as "explanation of Q-07".</param>
/// <param name="backTo">Address of the page that shows it, relative to the bench.</param>
public sealed class WorkInHand(string id, string title, string backTo) : IProgress<double>, IDisposable
{
    // Below this share of the work, or this soon, an extrapolated time would jump about.
    private const double FirstFraction = 0.005;
    private static readonly TimeSpan s_moment = TimeSpan.FromSeconds(0.7);
    private static readonly TimeSpan s_firstLook = TimeSpan.FromSeconds(1.5);

    private readonly CancellationTokenSource _stop = new();
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly TaskCompletionSource _settled = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private double _fraction;
    private long _endedAt;
    private volatile WorkState _state;

    /// <summary>Its name in addresses.</summary>
    public string Id => id;

    /// <summary>What it is.</summary>
    public string Title => title;

    /// <summary>Address of the page that shows it.</summary>
    public string BackTo => backTo;

    /// <summary>How far it has come.</summary>
    public WorkState State => _state;

    /// <summary>What it gave; null until done.</summary>
    public object? Result { get; private set; }

    /// <summary>What to tell the person when it was not done.</summary>
    public string? Says { get; private set; }

    /// <summary>Share of the work done, 0 to 1.</summary>
    public double Fraction => Volatile.Read(ref _fraction);

    /// <summary>Time since it ended; nothing while it runs.</summary>
    public TimeSpan SinceEnded => State == WorkState.Running ? TimeSpan.Zero : Stopwatch.GetElapsedTime(_endedAt);

    /// <summary>Completes when the work has ended in any way.</summary>
    public Task Settled => _settled.Task;

    /// <summary>Waits a moment for work that may be quick, so that a page need not show progress for it.</summary>
    public Task AMoment() => Task.WhenAny(Settled, Task.Delay(s_moment));

    /// <summary>Signalled when the person stops it.</summary>
    public CancellationToken Cancel => _stop.Token;

    /// <summary>Time left by the pace so far; null while that cannot be said.</summary>
    public TimeSpan? Left => Fraction is >= FirstFraction and <= 1 && _clock.Elapsed > s_firstLook ? _clock.Elapsed * ((1 - Fraction) / Fraction) : null;

    /// <summary>Percent and time left in words.</summary>
    public string Words => State switch
    {
        WorkState.Done => "Done.",
        WorkState.Stopped => "Stopped. Nothing was stored.",
        WorkState.Refused => Says!,
        _ when Fraction <= 0 => "Begun; how long it takes is not known yet.",
        _ => FormattableString.Invariant($"{Math.Floor(100 * Fraction):0} % done{(Left is { } left ? $", {InWords(left)} left" : "")}."),
    };

    /// <summary>Notes the share of the work done; it never goes back.</summary>
    public void Report(double value)
    {
        double next = Math.Clamp(value, 0, 1);
        for (double now = Fraction; next > now; now = Fraction)
        {
            if (Interlocked.CompareExchange(ref _fraction, next, now) == now)
            {
                return;
            }
        }
    }

    /// <summary>Asks the work to stop.</summary>
    public void Stop()
    {
        if (State == WorkState.Running)
        {
            _stop.Cancel();
        }
    }

    /// <summary>The clock starts when the work gets its place.</summary>
    public void Begin() => _clock.Restart();

    /// <summary>It ended so.</summary>
    public void End(WorkState state, object? result, string? says)
    {
        (Result, Says) = (result, says);
        _clock.Stop();
        _endedAt = Stopwatch.GetTimestamp();
        _state = state;
        _settled.TrySetResult();
    }

    /// <inheritdoc/>
    public void Dispose() => _stop.Dispose();

    /// <summary>A time left in words: rounded up, so that it is rather too long than too short.</summary>
    internal static string InWords(TimeSpan left) => left.TotalSeconds switch
    {
        < 10 => FormattableString.Invariant($"about {Math.Max(1, Math.Ceiling(left.TotalSeconds)):0} s"),
        < 55 => FormattableString.Invariant($"about {Math.Ceiling(left.TotalSeconds / 5) * 5:0} s"),
        < 5400 => FormattableString.Invariant($"about {Math.Ceiling(left.TotalMinutes):0} min"),
        _ => FormattableString.Invariant($"about {Math.Ceiling(left.TotalHours):0} h"),
    };
}

/// <summary>What a piece of work is given: a bench of its own, the place to report to, and the wish to stop.</summary>
/// <param name="Bench">The bench, used by this work alone.</param>
/// <param name="Progress">Takes the share done, 0 to 1.</param>
/// <param name="Cancel">Signalled when the person stops it; the work throws <see cref="OperationCanceledException"/> then and stores nothing.</param>
internal sealed record WorkTools(Casework.Recording.IBench Bench, IProgress<double> Progress, CancellationToken Cancel);

/// <summary>The work cannot be done as asked; the message says why, and what was kept.</summary>
internal sealed class WorkRefusedException(string message) : Exception(message);
