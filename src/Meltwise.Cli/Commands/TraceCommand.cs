using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Metallurgy.Furnaces;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>trace</c>: keeps the file of a furnace recorder with the load it belongs to, and tells the soak.</summary>
internal static class TraceCommand
{
    public static Command Create()
    {
        Argument<FileInfo> file = new("FILE") { Description = "File of the recorder: CSV, TSV or XLSX with a time and a temperature in °C, °F or K." };
        Option<string> load = new("--load") { Description = "Furnace load, as the coupons name it.", Required = true };
        Option<double> set = new("--set") { Description = "Set value of the step, °C.", Required = true };
        Option<double> tolerance = new("--tolerance") { Description = "By how much the load may differ from it, °C.", DefaultValueFactory = _ => RecordTrace.UsualToleranceC };
        Option<string?> step = new("--step") { Description = "Step of the treatment: austenitize, \"temper 2\"." };
        Option<string?> channel = new("--column") { Description = "Heading of the temperature column to read, where there are several." };
        Option<bool> dryRun = new("--dry-run") { Description = "Tell the soak and store nothing." };
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("trace", "Keep the trace of a furnace load, and tell how long it was at temperature.") { file, load, set, tolerance, step, channel, dryRun, place, json };
        command.SetAction(parsed =>
        {
            FileInfo chosen = parsed.GetValue(file)!;
            TraceDetails details = new(parsed.GetValue(load)!, parsed.GetValue(set), parsed.GetValue(tolerance), parsed.GetValue(step), parsed.GetValue(channel));
            bool onlyLook = parsed.GetValue(dryRun);
            using Bench bench = BenchAccess.Open(parsed.GetValue(place));
            RecordTrace recording = new(bench);
            byte[] content = Content(chosen);
            Outcome<FurnaceTrace> outcome = onlyLook ? recording.Look(details, chosen.Name, content) : recording.Run(details, chosen.Name, content, new(Environment.UserName, TimeProvider.System));
            if (parsed.GetValue(json)) JsonOutput.Write(Contract(outcome, !onlyLook));
            else Describe(outcome, onlyLook);
            return outcome.Value is null ? ExitStatus.InputFault : ExitStatus.Done;
        });
        return command;
    }

    private static byte[] Content(FileInfo file)
    {
        try
        {
            return File.ReadAllBytes(file.FullName);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw Fault.Input($"{file.Name} cannot be opened. Expected a file that you may read. Nothing was stored.");
        }
    }

    private static object Contract(Outcome<FurnaceTrace> outcome, bool stores)
    {
        FurnaceSoak? soak = outcome.Value is { } trace ? FurnaceTraceWords.Soak(trace) : null;
        return new
        {
            stored = stores && outcome.Value is not null,
            trace = outcome.Value?.Name,
            load = outcome.Value?.Load,
            readings = outcome.Value?.Minutes.Count,
            soakMinutes = soak?.Minutes,
            withinToleranceMinutes = soak?.WithinMinutes,
            extremeC = soak?.ExtremeC,
            overshootC = soak?.OvershootC,
            overshot = soak?.IsOvershot,
            findings = outcome.Findings.Select(f => f.Text),
        };
    }

    private static void Describe(Outcome<FurnaceTrace> outcome, bool onlyLook)
    {
        if (outcome.Value is not { } trace)
        {
            foreach (Finding finding in outcome.Findings) Console.Error.WriteLine("meltwise: " + finding.Text);
            Console.Error.WriteLine("meltwise: Nothing was stored.");
            return;
        }
        Paper paper = new();
        paper.Title(string.Create(CultureInfo.InvariantCulture, $"{trace.Name}: load {trace.Load}, {trace.Minutes.Count} readings over {trace.Minutes[^1]:0.#} min"));
        paper.Text(FurnaceTraceWords.Summary(trace) + ".");
        foreach (Finding finding in outcome.Findings) paper.Item("? ", finding.Text);
        paper.Item("  ", FurnaceTraceWords.Definition);
        paper.Text(onlyLook ? "Nothing was stored." : "It is kept with its file.");
    }
}
