using System.CommandLine;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Terminal;
using Meltwise.Storage;
using Meltwise.Storage.Checking;

namespace Meltwise.Cli.Commands;

/// <summary><c>check</c>: integrity of a bench.</summary>
internal static class CheckCommand
{
    public static Command Create()
    {
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("check", "Check a bench: the file, records without owners, one current version of each record, the trail and its digests, the pictures.") { place, json };
        command.SetAction(parsed =>
        {
            using Bench bench = BenchAccess.Open(parsed.GetValue(place));
            BenchFindings findings = bench.Check();
            BenchCard card = bench.Card;
            if (parsed.GetValue(json)) JsonOutput.Write(new { bench = card.Place, intact = findings.Faults.Count == 0, findings.Faults, findings.Entries, findings.Transactions, card.SchemaVersion });
            else Describe(new Paper(), card, findings);
            return findings.Faults.Count == 0 ? ExitStatus.Done : ExitStatus.InputFault;
        });
        return command;
    }

    private static void Describe(Paper paper, BenchCard card, BenchFindings findings)
    {
        paper.Title(findings.Faults.Count == 0 ? "The bench is intact." : $"The bench has {findings.Faults.Count} faults.");
        paper.Text($"{card.Place}: {card.Heats} heats, {card.Coupons} coupons, {card.Enquiries} enquiries; {findings.Entries} entries of the trail in {findings.Transactions} transactions, schema {card.SchemaVersion}.");
        foreach (string fault in findings.Faults) paper.Item("× ", fault);
        if (findings.Faults.Count > 0) paper.Text("Nothing was changed. Copy the file before you do anything else; the last backup is the way back.");
    }
}
