using System.CommandLine;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Terminal;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Packs;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>pack</c>: one enquiry's data, codebook, figures and report, made to be shared.</summary>
internal static class PackCommand
{
    public static Command Create()
    {
        Option<string> enquiry = new("--enquiry") { Description = "Enquiry of the bench.", Required = true };
        Option<string?> output = new("--out", "-o") { Description = "Zip file, or a folder when the name has no .zip (default: pack-NAME.zip here)." };
        Option<bool> anonymous = new("--anonymous") { Description = "Hide the names of sources, heats and client." };
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("pack", "Write one enquiry's data, codebook, figures and report as a zip or folder.") { enquiry, output, anonymous, place, json };
        command.SetAction(async (parsed, cancel) =>
        {
            using Bench bench = BenchAccess.Open(parsed.GetValue(place));
            string name = parsed.GetValue(enquiry)!;
            bool hide = parsed.GetValue(anonymous);
            string target = Path.GetFullPath(parsed.GetValue(output) ?? (hide ? "pack.zip" : $"pack-{name}.zip"));
            if (File.Exists(target) || Directory.Exists(target)) throw Fault.Input($"{target} exists already. Nothing was written. Give another name with --out.");
            try
            {
                PackInput input = PackInput.FromBench(bench, ReportCommand.Gather(bench, name, cancel));
                await Write(input, target, hide, cancel);
            }
            catch (Exception fault) when (fault is PackFaultException or ReportFaultException or ComparisonFaultException)
            {
                throw Fault.Input(fault.Message);
            }
            catch (Exception full) when (full is IOException or UnauthorizedAccessException)
            {
                throw Fault.Input($"The pack could not be written: {full.Message} The bench is as it was.");
            }
            if (parsed.GetValue(json)) JsonOutput.Write(new { enquiry = name, anonymous = hide, pack = target });
            else new Paper().Text($"The pack of {name} is {target}.");
            return ExitStatus.Done;
        });
        return command;
    }

    private static async Task Write(PackInput input, string target, bool anonymous, CancellationToken cancel)
    {
        if (!target.EndsWith(".zip", StringComparison.OrdinalIgnoreCase))
        {
            await PackWriter.WriteFolderAsync(input, target, anonymous, cancel);
            return;
        }
        string unfinished = target + ".writing";
        await using (FileStream zip = File.Create(unfinished)) await PackWriter.WriteZipAsync(input, zip, anonymous, cancel);
        File.Move(unfinished, target);
    }
}
