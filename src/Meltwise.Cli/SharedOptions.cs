using System.CommandLine;

namespace Meltwise.Cli;

/// <summary>Options that mean the same in every command. A new object each time, since an option belongs to one command.</summary>
internal static class SharedOptions
{
    public static Option<bool> Json() => new("--json") { Description = "Write one JSON object on standard output and nothing else there." };

    public static Option<string?> Bench() => new("--bench") { Description = "Bench file, or the connection of a shared bench (default: your own bench in the data folder).", HelpName = "FILE" };

    public static Option<int> Seed() => new("--seed") { Description = "Seed of the random draws; the same seed gives the same figures at any number of threads.", DefaultValueFactory = _ => 1 };
}
