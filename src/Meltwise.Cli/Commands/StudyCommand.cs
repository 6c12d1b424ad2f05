using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Studying;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Statistics;

namespace Meltwise.Cli.Commands;

/// <summary><c>study</c>: any set of groups of coupons compared at once.</summary>
internal static class StudyCommand
{
    public static Command Create()
    {
        Argument<FileInfo> file = new("file") { Description = "Table with one row a coupon." };
        Option<string> property = new("--property") { Description = "Property.", DefaultValueFactory = _ => "impact energy" };
        Option<string> by = new("--by") { Description = "Column or columns that make the groups: treatment, or treatment,route.", DefaultValueFactory = _ => "treatment" };
        Option<string?> control = new("--control") { Description = "Group that the others are compared with; all pairs when not given." };
        Option<string?> order = new("--order") { Description = "The groups as ordered levels, lowest first: \"1 h,2 h,4 h\"." };
        Option<string> margin = new("--margin") { Description = $"Largest difference still called the same; {MarginText.Forms}.", Required = true };
        Option<double> alpha = new("--alpha") { Description = "Error rate of the family of claims.", DefaultValueFactory = _ => 0.05 };
        Option<bool> json = SharedOptions.Json();
        Command command = new("study", "Compares any set of groups of coupons at once, with simultaneous intervals.") { file, property, by, control, order, margin, alpha, json };
        command.SetAction(parsed =>
        {
            Property known = PropertyTable.Find(parsed.GetValue(property)!)
                ?? throw Fault.Usage($"--property: '{parsed.GetValue(property)}' is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
            if (!MarginText.TryRead(parsed.GetValue(margin)!, known, out Margin? agreed, out string fault)) throw Fault.Usage($"--margin: {fault}");
            if (parsed.GetValue(alpha) is not (> 0 and < 0.5)) throw Fault.Usage("--alpha is an error rate: above 0 and below 0.5.");
            StudyRequest request = new()
            {
                Table = TableFile.Read(parsed.GetValue(file)!, [], parsed.GetValue(json)),
                Rule = new() { Property = known.Name, Margin = agreed!, Alpha = parsed.GetValue(alpha) },
                By = Words(parsed.GetValue(by)!), Control = parsed.GetValue(control), Order = parsed.GetValue(order) is { } levels ? Words(levels) : null,
            };
            return Write(Make(request), parsed.GetValue(json));
        });
        return command;
    }

    private static Study Make(StudyRequest request)
    {
        try
        {
            return Studying.Of(request);
        }
        catch (Exception fault) when (fault is StudyFaultException or ComparisonFaultException)
        {
            throw Fault.Input(fault.Message);
        }
        catch (InsufficientDataException missing)
        {
            throw Fault.Refused(missing.Message);
        }
    }

    private static string[] Words(string text) => text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static int Write(Study study, bool json)
    {
        if (json)
        {
            Console.Out.WriteLine(StudyJson.Write(study));
            return 0;
        }
        int width = study.Groups.Max(g => g.Name.Length);
        Console.Out.WriteLine($"{study.Property} by {string.Join(" and ", study.By)}, {(study.Scale == "log" ? "geometric means" : "means")} in {study.Unit}");
        foreach (StudiedGroup group in study.Groups)
            Console.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {group.Name.PadRight(width)}  {group.Mean,9:G4}   {group.N} coupons of {group.Heats} {(group.Heats == 1 ? "heat" : "heats")}"));
        Console.Out.WriteLine();
        foreach (StudiedPair pair in study.Comparisons) Console.Out.WriteLine("  " + pair.Text);
        if (study.NoChangeBeyond is { } level) Console.Out.WriteLine($"  No change beyond {level} within the margin.");
        Console.Out.WriteLine();
        foreach (string note in study.Notes) Console.Out.WriteLine("  " + note);
        foreach ((string reason, int count) in study.LeftOut) Console.Out.WriteLine($"  {count} rows left out: {reason}.");
        return 0;
    }
}
