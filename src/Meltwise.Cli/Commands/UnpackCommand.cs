using System.CommandLine;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Publishing.Packs;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>unpack</c>: checks a pack, and takes its records into a bench when asked to.</summary>
internal static class UnpackCommand
{
    public static Command Create()
    {
        Argument<string> pack = new("PACK") { Description = "Zip file or folder." };
        Option<string?> place = new("--into") { Description = "Bench that takes in the records; without it the pack is only checked.", HelpName = "FILE" };
        Option<bool> json = SharedOptions.Json();
        Command command = new("unpack", "Check a pack: digests, tables, records and verdict agree; take its records into a bench with --into.") { pack, place, json };
        command.SetAction(parsed =>
        {
            Pack read;
            try
            {
                read = PackReader.Read(parsed.GetValue(pack)!);
            }
            catch (PackFaultException fault)
            {
                if (parsed.GetValue(json)) JsonOutput.Write(new { faults = fault.Faults.Select(f => new { file = parsed.GetValue(pack), found = f }) });
                throw Fault.Input(fault.Message);
            }
            string? target = parsed.GetValue(place);
            if (target is not null) TakeIn(read, target);
            if (parsed.GetValue(json)) JsonOutput.Write(new { read.Manifest.Enquiry, files = read.Manifest.Files.Count, coupons = read.Records.Coupons.Count, takenInto = target });
            else new Paper().Text($"The pack of {read.Manifest.Enquiry} is whole: {read.Manifest.Files.Count} files, {read.Records.Heats.Count} heats, {read.Records.Coupons.Count} coupons. " + (target is null ? "Nothing was stored." : $"Its records are on {target}."));
            return ExitStatus.Done;
        });
        return command;
    }

    private static void TakeIn(Pack pack, string place)
    {
        bool isThere = File.Exists(place) || place.Contains('=', StringComparison.Ordinal);
        if (pack.Manifest.IsDemonstration && !isThere) throw Invented();
        using Bench bench = BenchAccess.OpenOrMake(place);
        if (pack.Manifest.IsDemonstration && !bench.Card.IsDemonstration)
            throw Invented();
        foreach (Picture picture in pack.Records.Pictures) bench.KeepOriginal(new MemoryStream(pack.Files[PackedPicture.PathOf(picture)]));
        bench.Commit(Environment.UserName, $"taken from the pack of {pack.Manifest.Enquiry}", pack.Records.FittedTo(bench.Pictures(), bench.FurnaceTraces()).ToChanges());
    }

    private static Fault Invented() =>
        Fault.Input("This pack holds invented data of the demonstration bench. It is not taken into another bench: invented history must not reach a real trend. Nothing was stored.");
}
