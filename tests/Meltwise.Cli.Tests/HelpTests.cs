using System.Text.RegularExpressions;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>Help is given for every command, also for those that cannot run without options, and ends with a line to copy.</summary>
public sealed partial class HelpTests : IDisposable
{
    private readonly MeltwiseProcess _meltwise = new();

    [GeneratedRegex(@"^  (?<name>[a-z]+)\b.*$", RegexOptions.ExplicitCapture | RegexOptions.Multiline, 1000)]
    private static partial Regex CommandLine { get; }

    [Fact]
    public void Every_command_tells_how_it_is_used()
    {
        string all = _meltwise.Run("--help").Expect(0).Output;
        string[] commands = [.. CommandLine.Matches(all[all.IndexOf("Commands:", StringComparison.Ordinal)..]).Select(m => m.Groups["name"].Value)];
        Assert.True(commands.Length >= 15, all);
        foreach (string command in commands)
        {
            Ending help = _meltwise.Run(command, "--help").Expect(0);
            Assert.Contains("Usage:", help.Output, StringComparison.Ordinal);
            Assert.Contains($"meltwise {command}", help.Output[help.Output.IndexOf("Example:", StringComparison.Ordinal)..], StringComparison.Ordinal);
            Assert.Empty(help.Messages);
        }
    }

    public void Dispose() => _meltwise.Dispose();
}
