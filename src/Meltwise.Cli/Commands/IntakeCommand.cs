using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Cli.Terminal;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>intake</c>: reads tables into the bench, or shows what would be stored.</summary>
internal static class IntakeCommand
{
    public static Command Create()
    {
        Argument<FileInfo[]> files = new("FILE") { Description = "Tables of coupons, history, chemistry or hot histories: CSV, TSV or XLSX.", Arity = ArgumentArity.OneOrMore };
        Option<bool> dryRun = new("--dry-run") { Description = "Show what would be stored and store nothing." };
        Option<bool> keepGood = new("--keep-good-rows") { Description = "Store the good rows of a file that has faults; without it such a file stores nothing." };
        Option<bool> unitsAreRight = new("--units-are-right") { Description = "The units are as the headings say, whatever the history suggests." };
        Option<string?> why = new("--why") { Description = "Reason for correcting what the bench holds otherwise; kept in the trail." };
        Option<string[]> map = ColumnOptions.Map();
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("intake", "Read tables into the bench. All faults of a file are listed at once; nothing is half-stored.") { files, dryRun, keepGood, unitsAreRight, why, map, place, json };
        command.SetAction(parsed =>
        {
            IReadOnlyList<ColumnMap> maps = ColumnOptions.Read(parsed.GetValue(map));
            IntakeChoice choice = new(parsed.GetValue(keepGood), parsed.GetValue(unitsAreRight), parsed.GetValue(why));
            List<(IntakePreview Preview, IntakeOutcome? Outcome)> results = [];
            using (Bench? bench = parsed.GetValue(dryRun) ? OpenIfThere(parsed.GetValue(place)) : BenchAccess.OpenOrMake(parsed.GetValue(place)))
                foreach (FileInfo file in parsed.GetValue(files)!)
                    results.Add(parsed.GetValue(dryRun) ? (Preview(bench, file, maps), null) : Store(bench!, file, maps, choice));
            if (parsed.GetValue(json)) JsonOutput.Write(Contract(results));
            else Describe(results, parsed.GetValue(dryRun));
            return results.All(Good) ? ExitStatus.Done : ExitStatus.InputFault;
        });
        return command;
    }

    private static Bench? OpenIfThere(string? place) => place is not null || File.Exists(BenchFile.OwnPath) ? BenchAccess.Open(place) : null;

    private static IntakePreview Preview(Bench? bench, FileInfo file, IReadOnlyList<ColumnMap> maps)
    {
        IntakePreview preview = IntakePreview.OfFile(file.FullName, maps);
        return bench is null ? preview : IntakeRun.Against(bench, preview);
    }

    private static (IntakePreview, IntakeOutcome?) Store(Bench bench, FileInfo file, IReadOnlyList<ColumnMap> maps, IntakeChoice choice)
    {
        IntakePreview preview = IntakePreview.OfFile(file.FullName, maps);
        return (preview, IntakeRun.Store(bench, preview, Environment.UserName, choice));
    }

    private static bool Good((IntakePreview Preview, IntakeOutcome? Outcome) result) => result.Outcome is { } outcome
        ? outcome.AlreadyStored || (outcome.Stored && outcome.Faults.Count == 0)
        : result.Preview.IsClean && result.Preview.Conflicts.Count == 0 && result.Preview.Suspicions.Count == 0;

    private static IEnumerable<IntakeFault> Faults((IntakePreview Preview, IntakeOutcome? Outcome) result) => result.Outcome?.Faults ?? [.. result.Preview.Faults, .. result.Preview.Conflicts];

    private static object Contract(IReadOnlyList<(IntakePreview Preview, IntakeOutcome? Outcome)> results) => new
    {
        faults = results.SelectMany(Faults),
        files = results.Select(r => new
        {
            r.Preview.File,
            r.Preview.Digest,
            rows = r.Preview.DataRows,
            coupons = r.Preview.Coupons.Count,
            chemistry = r.Preview.Chemistry.Count,
            hotHistories = r.Preview.HotHistories.Count,
            columns = r.Preview.Columns.Select(c => new { c.Sheet, c.Heading, takenFor = c.Meaning, c.ByUser }),
            notes = r.Preview.Notes,
            suspicions = r.Preview.Suspicions.Select(s => s.Words),
            stored = r.Outcome?.Stored ?? false,
            alreadyStored = r.Outcome?.AlreadyStored ?? false,
            message = r.Outcome?.Message,
        }),
    };

    private static void Describe(IReadOnlyList<(IntakePreview Preview, IntakeOutcome? Outcome)> results, bool dryRun)
    {
        Paper paper = new();
        foreach ((IntakePreview preview, IntakeOutcome? outcome) in results)
        {
            paper.Title(preview.File);
            if (preview.Columns.Count > 0)
                paper.Table(["column", "taken for"], preview.Columns.Select(c => (IReadOnlyList<string>)[c.Sheet is null ? c.Heading : $"{c.Sheet}: {c.Heading}", c.Meaning + (c.ByUser ? " (as you said)" : "")]));
            foreach (IntakeNote note in preview.Notes)
                paper.Item("  ", (note.Row is { } row ? string.Create(CultureInfo.InvariantCulture, $"Row {row}: ") : "") + note.Text);
            foreach (UnitSuspicion suspicion in preview.Suspicions) paper.Item("? ", suspicion.Words);
            foreach (IntakeFault fault in Faults((preview, outcome)))
                Console.Error.WriteLine("meltwise: " + fault);
            paper.Text(outcome?.Message ?? string.Create(CultureInfo.InvariantCulture, $"{preview.Coupons.Count} coupon rows, {preview.Chemistry.Count} chemistry rows and {preview.HotHistories.Sum(h => h.Rows)} rows of hot histories of {preview.DataRows} would be stored. Nothing was."));
            paper.Blank();
        }
        if (dryRun) paper.Text("Correct a column with --map \"Heading=impact energy [J]\"; an empty meaning leaves the column out.");
    }
}
