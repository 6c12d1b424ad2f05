using Meltwise.Casework.Recording;
using Meltwise.Web.Hosting;
using Meltwise.Web.Settings;
using Microsoft.AspNetCore.Http;

namespace Meltwise.Web.Page;

/// <summary>What a page works with while it is made: the bench its address names, the person, the way of writing. One request has one desk.</summary>
internal sealed class Desk(IHttpContextAccessor context, BenchShelf shelf, SettingsFile settings) : IDisposable
{
    private IBench? _bench;

    /// <summary>Which bench the address names.</summary>
    public BenchKind Kind => context.HttpContext?.Features.Get<ChosenBench>()?.Kind ?? BenchKind.Own;

    /// <summary>True when that bench was started.</summary>
    public bool HasBench => shelf.Has(Kind);

    /// <summary>The bench.</summary>
    public IBench Bench => _bench ??= shelf.Take(Kind);

    /// <summary>Settings of this machine.</summary>
    public MachineSettings Settings => settings.Current;

    /// <summary>How numbers and days are written.</summary>
    public Written Written => new(settings.Current);

    /// <summary>The person, as the use cases stamp it.</summary>
    public Hand Hand => new(Settings.Person);

    /// <summary>Takes a use case on the bench.</summary>
    /// <returns>Null when it was done, otherwise what to tell the person; nothing was stored then.</returns>
    public string? Try<T>(Func<IBench, Outcome<T>> useCase)
        where T : class
    {
        try
        {
            Outcome<T> outcome = useCase(Bench);
            return outcome.Done ? null : string.Join(' ', outcome.Findings.Where(f => f.Weight == FindingWeight.Fault).Select(f => f.Text).Append("Nothing was stored."));
        }
        catch (BenchException e)
        {
            return e.Message;
        }
    }

    /// <summary>Stores changes under the person's name.</summary>
    /// <returns>Null when all was stored, otherwise what to tell the person; nothing was stored then.</returns>
    public string? TryCommit(string? why, params IEnumerable<BenchChange> changes)
    {
        try
        {
            Bench.Commit(Settings.Person, why, changes);
            return null;
        }
        catch (BenchException e)
        {
            return e.Message;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (_bench is not null)
        {
            shelf.PutBack(Kind, _bench);
            _bench = null;
        }
    }
}
