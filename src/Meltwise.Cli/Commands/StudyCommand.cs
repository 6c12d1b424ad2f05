using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Studying;
using Meltwise.Cli.Terminal;
using Meltwise.Domain;
using Meltwise.Statistics;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary><c>study</c>: a treatment study of a table or of the bench: groups compared at once, with equivalence to a control.</summary>
internal static class StudyCommand
{
    public static Command Create()
    {
        Argument<FileInfo?> file = new("FILE") { Description = "Table with one row a coupon; without it the coupons of the bench.", Arity = ArgumentArity.ZeroOrOne };
        Option<string> by = new("--by") { Description = "Column or columns that make the groups: treatment, or route,orientation.", DefaultValueFactory = _ => "treatment" };
        Option<string?> control = new("--control") { Description = "Group that all others are compared with; without it all pairs." };
        Option<string?> order = new("--order") { Description = "Groups in order, parted by |, for a trend and for no change beyond a level." };
        Option<string?> levels = new("--levels") { Description = "Value of each level in that order, rising or falling, such as \"520 | 540 | 580 °C\"; without it they are equally spaced." };
        Option<string[]> where = new("--where") { Description = "Only rows with this value: --where orientation=L. May be given several times.", DefaultValueFactory = _ => [] };
        Option<string> property = new("--property") { Description = "Property.", DefaultValueFactory = _ => "impact energy" };
        Option<string> margin = new("--margin") { Description = $"Largest difference still called the same; {MarginText.Forms}.", DefaultValueFactory = _ => "0.80..1.25" };
        Option<string[]> map = ColumnOptions.Map();
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("study", "Compare any set of groups at once: treatments, routes, orientations; simultaneous intervals and equivalence to a control.") { file, by, control, order, levels, where, property, margin, map, place, json };
        command.SetAction(parsed =>
        {
            Property known = PropertyTable.Find(parsed.GetValue(property)!) ?? throw Fault.Usage($"--property \"{parsed.GetValue(property)}\" is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
            if (!MarginText.TryRead(parsed.GetValue(margin)!, known, out Margin? agreed, out string fault)) throw Fault.Usage($"--margin: {fault}");
            CouponTable table = parsed.GetValue(file) is { } path ? TableFile.Read(path, ColumnOptions.Read(parsed.GetValue(map)), parsed.GetValue(json)) : OfBench(parsed.GetValue(place), known);
            StudyRequest request = new()
            {
                Table = (parsed.GetValue(where) ?? []).Aggregate(table, Only),
                Rule = new DecisionRule { Property = known.Name, Margin = agreed! },
                By = StudyOptions.Parts(parsed.GetValue(by), ','),
                Control = parsed.GetValue(control),
                Order = parsed.GetValue(order) is { } inOrder ? StudyOptions.Parts(inOrder, '|') : null,
            };
            Study study = Analyse(request with { Levels = parsed.GetValue(levels) is { } values ? Scale(values, request.Order ?? []) : null });
            if (parsed.GetValue(json)) Console.Out.WriteLine(StudyJson.Write(study));
            else Describe(new Paper(), study);
            return ExitStatus.Done;
        });
        return command;
    }

    private static LevelScale Scale(string values, IReadOnlyList<string> levels)
    {
        try
        {
            return LevelScale.Read(values, levels);
        }
        catch (StudyFaultException fault)
        {
            throw Fault.Usage($"--levels: {fault.Message}");
        }
    }

    private static Study Analyse(StudyRequest request)
    {
        try
        {
            return StudyAnalysis.Of(request);
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

    private static CouponTable OfBench(string? place, Property property)
    {
        using Bench bench = BenchAccess.Open(place);
        return StudyTable.OfBench(bench, property);
    }

    private static CouponTable Only(CouponTable table, string condition)
    {
        (string column, string value) = StudyOptions.Condition(condition);
        try
        {
            return table.Only(column, value);
        }
        catch (StudyFaultException fault)
        {
            throw Fault.Usage($"--where: {fault.Message}");
        }
    }

    private static void Describe(Paper paper, Study study)
    {
        paper.Title($"{char.ToUpperInvariant(study.Property[0])}{study.Property[1..]} by {string.Join(" and ", study.By)}");
        paper.Table(["group", "coupons", "heats", (study.Scale == "log" ? "geometric mean, " : "mean, ") + study.Unit, "hardness, HRC"], study.Groups.Select(g => (IReadOnlyList<string>)
        [
            g.Name, g.N.ToString(CultureInfo.InvariantCulture), g.Heats.ToString(CultureInfo.InvariantCulture), g.Mean.ToString("0.0", CultureInfo.InvariantCulture), g.HardnessHrc?.ToString("0.0", CultureInfo.InvariantCulture) ?? "",
        ]), 1, 2, 3, 4);
        paper.Section("Compared at once");
        foreach (StudiedPair pair in study.Comparisons) paper.Item("− ", pair.Text + ".");
        if (study.ChangePerLevel is { } change)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Change per {(study.LevelValues is null ? "level, taken as equally spaced" : $"{study.LevelUnit ?? "unit"} over {new LevelScale(study.LevelValues, study.LevelUnit)}")}: {(study.Scale == "log" ? $"× {change:0.0000} ({study.ChangePerLevelLower:0.0000} to {study.ChangePerLevelUpper:0.0000})" : $"{change:+0.000;−0.000} {study.Unit} ({study.ChangePerLevelLower:0.000} to {study.ChangePerLevelUpper:0.000})")}, 95 %, p = {study.ChangePerLevelP:0.000}."));
        if (study.ChangeOverLevels is { } over)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"From {study.Order![0]} to {study.Order[^1]}: {(study.Scale == "log" ? $"× {over.Estimate:0.000} ({over.Lower:0.000} to {over.Upper:0.000})" : $"{over.Estimate:+0.00;−0.00} {study.Unit} ({over.Lower:0.00} to {over.Upper:0.00})")}, 95 %."));
        if (study.NoChangeBeyond is { } level) paper.Text($"From {level} on, all pairs agree within the margin.");
        else if (study.Order is not null) paper.Text("No level is shown from which on all pairs agree within the margin.");
        paper.Section("Method and limits");
        paper.Item("  ", $"{char.ToUpperInvariant(study.Method[0])}{study.Method[1..]}.");
        foreach ((string reason, int count) in study.LeftOut) paper.Item("  ", $"{count} rows left out: {reason}.");
        foreach (string note in study.Notes) paper.Item("  ", note);
    }
}
