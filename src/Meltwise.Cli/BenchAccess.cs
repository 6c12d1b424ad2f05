using Meltwise.Storage;

namespace Meltwise.Cli;

/// <summary>Opens the bench a command was given: a file, a connection to a shared bench, or the person's own bench file.</summary>
internal static class BenchAccess
{
    /// <summary>The bench named by <c>--bench</c>, or the own bench.</summary>
    public static Bench Open(string? place)
    {
        if (place is { } named && named.Contains('=', StringComparison.Ordinal) && !File.Exists(named)) return BenchServer.Open(named);
        string path = place ?? BenchFile.OwnPath;
        return File.Exists(path) || Directory.Exists(path)
            ? BenchFile.Open(path)
            : throw Fault.Input(place is null
                ? $"There is no bench of your own yet ({path}). Bring in a table with meltwise intake, or read the demonstration with meltwise demo."
                : $"There is no bench file {path}. Nothing was made. Check the name given to --bench.");
    }

    /// <summary>The bench to write to: made when it is not there.</summary>
    public static Bench OpenOrMake(string? place)
    {
        if (place is { } named && named.Contains('=', StringComparison.Ordinal) && !File.Exists(named)) return BenchServer.Open(named);
        string path = place ?? BenchFile.OwnPath;
        return File.Exists(path) || Directory.Exists(path) ? BenchFile.Open(path) : BenchFile.Create(path, isDemonstration: false);
    }
}
