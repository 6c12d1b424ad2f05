namespace Meltwise.Cli;

/// <summary>Where benches live when no path is given: the user's data folder, or the folder that MELTWISE_HOME names.</summary>
internal static class BenchPlaces
{
    /// <summary>Folder of the user's benches.</summary>
    public static string Folder { get; } = Environment.GetEnvironmentVariable("MELTWISE_HOME") is { Length: > 0 } home
        ? home
        : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create), "meltwise");

    /// <summary>The person's own bench.</summary>
    public static string Own => Path.Combine(Folder, "bench.meltwise");

    /// <summary>The demonstration bench: another file, and nothing is copied between the two.</summary>
    public static string Demonstration => Path.Combine(Folder, "demonstration.meltwise");
}
