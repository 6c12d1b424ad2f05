namespace Meltwise.Storage.Tests.Engines;

/// <summary>A folder of one test, removed afterwards.</summary>
public sealed class BenchFolder : IDisposable
{
    public string Root { get; } = Directory.CreateTempSubdirectory("meltwise-bench-").FullName;

    public string File(string name) => Path.Combine(Root, name);

    public void Dispose() => Directory.Delete(Root, recursive: true);
}
