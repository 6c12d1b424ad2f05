using System.CommandLine;
using System.Globalization;
using Meltwise.Cli.Terminal;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>backup</c>: a consistent copy of a bench while it is in use.</summary>
internal static class BackupCommand
{
    public static Command Create()
    {
        Argument<string?> target = new("COPY") { Description = "File to write; it must not exist. Default: the bench's name with the time, beside it.", Arity = ArgumentArity.ZeroOrOne };
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("backup", "Write a consistent copy of a bench while it is in use.") { target, place, json };
        command.SetAction(parsed =>
        {
            using Bench bench = BenchAccess.Open(parsed.GetValue(place));
            string copy = parsed.GetValue(target) ?? Beside(bench.Card.Place);
            bench.BackUp(copy);
            string full = Path.GetFullPath(copy);
            if (parsed.GetValue(json)) JsonOutput.Write(new { bench = bench.Card.Place, copy = full, bytes = new FileInfo(full).Length });
            else new Paper().Text($"Copied {bench.Card.Place} to {full} ({new FileInfo(full).Length / 1024.0:0} KiB). Keep a copy on another machine.");
            return ExitStatus.Done;
        });
        return command;
    }

    private static string Beside(string place) => Path.Combine(Path.GetDirectoryName(Path.GetFullPath(place))!,
        string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(place)}-{DateTime.Now:yyyyMMdd-HHmmss}.meltwise"));
}
