using System.Collections.Concurrent;
using Meltwise.Casework.Recording;

namespace Meltwise.Web.Hosting;

/// <summary>Keeps the opened benches. An opened bench is used by one request at a time and put back, so that pages do not pay for opening it.</summary>
internal sealed class BenchShelf(WorkbenchOptions options, IBenchOpener opener) : IDisposable
{
    private readonly ConcurrentDictionary<BenchKind, ConcurrentBag<IBench>> _free = new();

    /// <summary>True when the bench was started.</summary>
    public bool Has(BenchKind kind) => PathOf(kind) is { } path && File.Exists(path);

    /// <summary>Starts the person's own bench.</summary>
    /// <exception cref="BenchException">It could not be made.</exception>
    public void StartOwn() => opener.Make(options.BenchPath);

    /// <summary>An opened bench for one request.</summary>
    /// <exception cref="BenchException">It could not be opened.</exception>
    public IBench Take(BenchKind kind) =>
        FreeOf(kind).TryTake(out IBench? bench) ? bench : opener.Open(PathOf(kind) ?? throw new BenchException("There is no demonstration bench. Make it with: meltwise demo"));

    /// <summary>Gives it back.</summary>
    public void PutBack(BenchKind kind, IBench bench) => FreeOf(kind).Add(bench);

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (IBench bench in _free.Values.SelectMany(b => b))
        {
            bench.Dispose();
        }

        _free.Clear();
    }

    private ConcurrentBag<IBench> FreeOf(BenchKind kind) => _free.GetOrAdd(kind, _ => []);

    private string? PathOf(BenchKind kind) => kind == BenchKind.Demo ? options.DemoPath : options.BenchPath;
}

/// <summary>Opens bench files; the storage does it, a test may do it in its own way.</summary>
internal interface IBenchOpener
{
    /// <summary>Opens the bench at the path.</summary>
    IBench Open(string path);

    /// <summary>Makes a new bench of a person's own.</summary>
    void Make(string path);

    /// <summary>Writes a consistent copy of a bench in use to a new file.</summary>
    /// <exception cref="BenchException">It cannot be copied.</exception>
    void Copy(IBench bench, string path);
}
