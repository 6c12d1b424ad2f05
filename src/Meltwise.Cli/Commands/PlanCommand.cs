using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Planning;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Publishing.Labels;

namespace Meltwise.Cli.Commands;

/// <summary><c>plan</c>: odds of each outcome against coupon and heat numbers; allocation, bench sheet and labels.</summary>
internal static class PlanCommand
{
    public static Command Create()
    {
        PlanOptions options = new();
        Option<bool> json = SharedOptions.Json();
        Command command = new("plan", "Odds of each outcome before anything is broken, simulated with the rule that will judge; allocation to loads, bench sheet and labels.") { json };
        foreach (Option option in options.All) command.Options.Add(option);
        command.SetAction((parsed, cancel) =>
        {
            try
            {
                return Task.FromResult(options.IsAllocation(parsed) ? Allocate(options, parsed, parsed.GetValue(json)) : Odds(options, parsed, parsed.GetValue(json), cancel));
            }
            catch (PlanFaultException fault)
            {
                throw Fault.Usage(fault.Message);
            }
            catch (ComparisonFaultException fault)
            {
                throw Fault.Usage(fault.Message);
            }
            catch (PlanRefusedException refused)
            {
                throw Fault.Refused($"{refused.Reason}: {refused.Message}");
            }
            catch (AllocationRefusedException refused)
            {
                throw Fault.Refused($"{refused.Reason}: {refused.Message}");
            }
        });
        return command;
    }

    private static int Odds(PlanOptions options, ParseResult parsed, bool json, CancellationToken cancel)
    {
        (PlanRequest request, BenchKnowledge? known, IReadOnlyList<string> from) = options.Read(parsed, json);
        PlanTable plan = ProgressLine.Run("simulating", report => OutcomeOdds.Of(request, new Progress<double>(report), cancel));
        if (json) Console.Out.WriteLine(PlanJson.Write(plan));
        else PlanPage.Write(new Paper(), request, plan, known, from);
        return ExitStatus.Done;
    }

    private static int Allocate(PlanOptions options, ParseResult parsed, bool json)
    {
        (AllocationRequest request, string enquiry, IReadOnlyList<Property> properties, string folder) = options.ReadAllocation(parsed);
        Allocation allocation = Allocating.Of(request);
        Directory.CreateDirectory(folder);
        string[] files =
        [
            Keep(folder, "bench-sheet.pdf", AllocationPapers.BenchSheet(enquiry, properties, allocation)),
            Keep(folder, "labels.pdf", AllocationPapers.Labels(enquiry, properties, allocation)),
            Keep(folder, "cutting-sketch.pdf", AllocationPapers.CuttingSketch(enquiry, properties, allocation)),
            Keep(folder, "cutting-list.csv", AllocationPapers.CuttingList(allocation)),
            Keep(folder, "sealed-key.json", AllocationPapers.SealedKey(allocation)),
        ];
        if (json) Console.Out.WriteLine(PlanJson.Write(allocation));
        else Describe(new Paper(), allocation, files);
        return ExitStatus.Done;
    }

    private static string Keep(string folder, string name, byte[] content)
    {
        string path = Path.Combine(folder, name);
        File.WriteAllBytes(path, content);
        return path;
    }

    private static void Describe(Paper paper, Allocation allocation, IReadOnlyList<string> files)
    {
        paper.Title($"{allocation.Coupons.Count} coupons dealt to {allocation.Coupons.Max(c => c.Load)} loads");
        paper.Table(["code", "load", "place", "hardness", "break"], allocation.Coupons.OrderBy(c => c.Load).ThenBy(c => c.Position).Select(c => (IReadOnlyList<string>)
            [c.Code, .. new[] { c.Load, c.Position, c.HardnessOrder, c.BreakOrder }.Select(n => n.ToString(CultureInfo.InvariantCulture))]), 1, 2, 3, 4);
        foreach (string note in allocation.Notes) paper.Item("  ", note);
        foreach (string file in files) paper.Line(file);
        paper.Text("Whoever types the readings must not open cutting-sketch.pdf, cutting-list.csv or sealed-key.json before the readings are locked.");
    }
}
