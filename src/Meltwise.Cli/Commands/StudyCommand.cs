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
        Option<string[]> where = new("--where") { Description = "Only rows with this value: --where orientation=L. May be given several times.", DefaultValueFactory = _ => [] };
        Option<string> property = new("--property") { Description = "Property.", DefaultValueFactory = _ => "impact energy" };
        Option<string> margin = new("--margin") { Description = $"Largest difference still called the same; {MarginText.Forms}.", DefaultValueFactory = _ => "0.80..1.25" };
        Option<string[]> map = ColumnOptions.Map();
        Option<string?> place = SharedOptions.Bench();
        Option<bool> json = SharedOptions.Json();
        Command command = new("study", "Compare any set of groups at once: treatments, routes, orientations; simultaneous intervals and equivalence to a control.") { file, by, control, order, where, property, margin, map, place, json };
        command.SetAction(parsed =>
        {
            Property known = PropertyTable.Find(parsed.GetValue(property)!) ?? throw Fault.Usage($"--property \"{parsed.GetValue(property)}\" is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
            if (!MarginText.TryRead(parsed.GetValue(margin)!, known, out Margin? agreed, out string fault)) throw Fault.Usage($"--margin: {fault}");
            CouponTable table = parsed.GetValue(file) is { } path ? TableFile.Read(path, ColumnOptions.Read(parsed.GetValue(map)), parsed.GetValue(json)) : OfBench(parsed.GetValue(place), known);
            StudyRequest request = new()
            {
                Table = (parsed.GetValue(where) ?? []).Aggregate(table, Only),
                Rule = new DecisionRule { Property = known.Name, Margin = agreed! },
                By = Parts(parsed.GetValue(by), ','),
                Control = parsed.GetValue(control),
                Order = parsed.GetValue(order) is { } levels ? Parts(levels, '|') : null,
            };
            Study study = Analyse(request);
            if (parsed.GetValue(json)) Console.Out.WriteLine(StudyJson.Write(study));
            else Describe(new Paper(), study);
            return ExitStatus.Done;
        });
        return command;
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

    /// <summary>The bench's coupons, each treatment by its name where its set values have one.</summary>
    private static CouponTable OfBench(string? place, Property property)
    {
        using Bench bench = BenchAccess.Open(place);
        Dictionary<string, string> names = bench.Treatments().GroupBy(t => t.SetValues, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First().Name, StringComparer.Ordinal);
        CouponTable table = bench.CouponTable(new CouponSelection(Property: property.Name));
        return table with { Name = "the bench", Rows = [.. table.Rows.Select(r => r with { Treatment = r.Treatment is { } set ? names.GetValueOrDefault(set, set) : null })] };
    }

    private static CouponTable Only(CouponTable table, string condition)
    {
        int equals = condition.IndexOf('=', StringComparison.Ordinal);
        if (equals <= 0) throw Fault.Usage($"--where \"{condition}\" has no equals sign; write --where orientation=L.");
        (string column, string value) = (condition[..equals].Trim(), condition[(equals + 1)..].Trim());
        Func<CouponRow, string?> cell = column.ToUpperInvariant() switch
        {
            "TREATMENT" => r => r.Treatment,
            "TEMPER FAMILY" => r => r.TemperFamily,
            "ROUTE" => r => r.Route,
            "SOURCE" => r => r.Source,
            "GRADE" => r => r.Grade,
            "ORIENTATION" => r => r.Orientation,
            "GEOMETRY" => r => r.Geometry,
            "HEAT" => r => r.Heat,
            "LOAD" => r => r.Load,
            "SESSION" => r => r.Session,
            _ => throw Fault.Usage($"--where: \"{column}\" is no column to choose by; heat, source, grade, route, orientation, geometry, treatment, temper family, load and session are."),
        };
        return table with { Rows = [.. table.Rows.Where(r => string.Equals(cell(r), value, StringComparison.OrdinalIgnoreCase))] };
    }

    private static string[] Parts(string? text, char separator) => (text ?? "").Split(separator, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static void Describe(Paper paper, Study study)
    {
        paper.Title($"{study.Property} by {string.Join(" and ", study.By)}");
        paper.Table(["group", "coupons", "heats", (study.Scale == "log" ? "geometric mean, " : "mean, ") + study.Unit], study.Groups.Select(g => (IReadOnlyList<string>)
            [g.Name, g.N.ToString(CultureInfo.InvariantCulture), g.Heats.ToString(CultureInfo.InvariantCulture), g.Mean.ToString("0.0", CultureInfo.InvariantCulture)]), 1, 2, 3);
        paper.Section("Compared at once");
        foreach (StudiedPair pair in study.Comparisons) paper.Item("− ", pair.Text + ".");
        if (study.ChangePerLevel is { } change)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Change per level: {(study.Scale == "log" ? $"× {change:0.000}" : $"{change:+0.00;−0.00} {study.Unit}")}, p = {study.ChangePerLevelP:0.00}."));
        if (study.NoChangeBeyond is { } level) paper.Text($"From {level} on, all pairs agree within the margin.");
        paper.Section("Method and limits");
        paper.Text(study.Method);
        foreach ((string reason, int count) in study.LeftOut) paper.Item("  ", $"{count} rows left out: {reason}.");
        foreach (string note in study.Notes) paper.Item("  ", note);
    }
}
