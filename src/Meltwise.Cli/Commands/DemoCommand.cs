using System.CommandLine;
using Meltwise.Casework.Demonstration;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>demo</c>: makes the demonstration bench once and says where to look next.</summary>
internal static class DemoCommand
{
    /// <summary>Draws of the demonstration's explanations: fewer than usual, so that the first start does not keep a person waiting.</summary>
    private const int ExplanationDraws = 400;

    public static Command Create()
    {
        Option<bool> json = SharedOptions.Json();
        Command command = new("demo", "Make the demonstration bench (invented data, a file of its own) once, and say where to look next.") { json };
        command.SetAction(parsed =>
        {
            MakeOnce(Console.Error);
            using Bench bench = BenchFile.Open(BenchFile.DemonstrationPath);
            BenchCard card = bench.Card;
            if (parsed.GetValue(json)) JsonOutput.Write(new { bench = card.Place, demonstration = true, card.Heats, card.Coupons, enquiries = bench.Enquiries().Select(e => e.Name) });
            else Describe(new Paper(), bench, card);
            return ExitStatus.Done;
        });
        return command;
    }

    /// <summary>Makes the bench when it is not there; never touches one that is.</summary>
    public static void MakeOnce(TextWriter messages)
    {
        string path = BenchFile.DemonstrationPath;
        if (File.Exists(path)) return;
        messages.WriteLine("meltwise: making the demonstration bench (once)");
        string unfinished = path + ".making";
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        BenchFile.RemoveUnfinished(unfinished);
        using (Bench bench = BenchFile.Create(unfinished, isDemonstration: true))
        {
            bench.Commit(DemonstrationBench.Author, DemonstrationBench.Reason, DemonstrationBench.Changes());
            DemonstrationPictures.AddTo(bench);
            foreach (Enquiry enquiry in bench.Enquiries()) Conclude(bench, enquiry);
        }
        BenchFile.Rename(unfinished, path);
    }

    /// <summary>Judges and explains an enquiry, so that the first visit finds something to read.</summary>
    private static void Conclude(Bench bench, Enquiry enquiry)
    {
        DateTime after = enquiry.StagesUtc[EnquiryStage.Tested].AddHours(2);
        ExplanationDocument explanation = EnquiryExplanation.Explain(bench, enquiry, ExplanationDraws);
        bench.Commit(DemonstrationBench.Author, null, [EnquiryExplanation.Store(enquiry, explanation, after), .. EnquiryJudgement.Keep(enquiry, EnquiryJudgement.Judge(bench, enquiry), after)]);
    }

    private static void Describe(Paper paper, Bench bench, BenchCard card)
    {
        paper.Title("The demonstration bench. Everything on it is invented.");
        paper.Text($"{card.Heats} heats, {card.Coupons} coupons and {card.Enquiries} enquiries of a maker of cold-forging punches, in {card.Place}. Your own bench is another file, and nothing is copied between them.");
        paper.Section("Enquiries to read");
        foreach (Enquiry enquiry in bench.Enquiries()) paper.Item($"{enquiry.Name}  ", enquiry.Title);
        paper.Section("Next");
        string place = card.Place.Contains(' ', StringComparison.Ordinal) ? $"\"{card.Place}\"" : card.Place;
        paper.Line($"{Invocation.Spoken} start --demo");
        paper.Line($"{Invocation.Spoken} compare --enquiry Q-07 --bench {place}");
        paper.Line($"{Invocation.Spoken} report --enquiry Q-09 --bench {place}");
    }
}
