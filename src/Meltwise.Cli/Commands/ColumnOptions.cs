using System.CommandLine;
using Meltwise.Casework.Intake;

namespace Meltwise.Cli.Commands;

/// <summary><c>--map</c>: the user's word on what a column stands for.</summary>
internal static class ColumnOptions
{
    public static Option<string[]> Map() => new("--map") { Description = "What a column stands for: --map \"Energy=impact energy [J]\". May be given several times.", DefaultValueFactory = _ => [] };

    public static IReadOnlyList<ColumnMap> Read(IEnumerable<string>? maps) =>
        [.. (maps ?? []).Select(m => ColumnMap.Read(m) ?? throw Fault.Usage($"--map \"{m}\" has no equals sign; write --map \"Heading=impact energy [J]\"."))];
}
