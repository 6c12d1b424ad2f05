using Meltwise.Casework.Intake;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

/// <summary>Every file of Broken/intake is refused with its place, what was found and what was expected; good rows beside bad ones are kept apart.</summary>
public sealed class BrokenFilesTests
{
    private static readonly TableLimits s_limits = TableLimits.Usual with { UnpackedBytes = 16 << 20 };

    // File, good rows, and each fault as "row | column | part of found | part of expected".
    public static TheoryData<string, int, string[]> Files { get; } = new()
    {
        { "empty.csv", 0, ["||empty file|CSV, TSV or XLSX"] },
        { "blank-lines.csv", 0, ["||only blank lines|a table"] },
        { "heading-only.csv", 0, ["||heading without rows|at least one row"] },
        { "binary.csv", 0, ["||binary file|a table"] },
        { "picture.csv", 0, ["||binary file|a table"] },
        { "old-workbook.xls", 0, ["||old binary format|saved as XLSX"] },
        { "cut-off.xlsx", 0, ["||damaged|XLSX workbook"] },
        { "zip-without-workbook.xlsx", 0, ["||no XLSX workbook|XLSX workbook"] },
        { "bomb.xlsx", 0, ["||unpacks to more|limits"] },
        { "entities.xlsx", 0, ["||damaged|XLSX workbook"] },
        { "no-heat.csv", 0, ["1||no column heat|headed heat"] },
        { "no-property.csv", 0, ["1||no column of a property|impact energy [J]"] },
        { "duplicate-coupon.csv", 2, ["4|coupon|coupon 1 of heat K17 again|row 2"] },
        { "unknown-unit.csv", 0, ["1|impact energy [kJ]|the unit kJ|J or ft·lbf"] },
        { "no-unit.csv", 0, ["2|impact energy|41 without a unit|J or ft·lbf"] },
        { "negative-energy.csv", 1, ["2|impact energy [J]|-41.2 J|above 0 and at most 600 J"] },
        { "zero-energy.csv", 0, ["2|impact energy [J]|0 J|above 0"] },
        { "hardness-out-of-belief.csv", 0, ["2|hardness [HRC]|610 HRC|at most 72 HRC"] },
        { "missing-hardness.csv", 2, [] },
        { "missing-names.csv", 0, ["2|heat|an empty cell|name of the heat", "3|coupon|an empty cell|name of the coupon"] },
        { "no-reading.csv", 0, ["2||no reading|not done"] },
        { "text-for-number.csv", 0, ["2|hardness [HRC]|sixty|a figure", "3|impact energy [J]|~40|a figure", "4|impact energy [J]|4 1 . 2|a figure"] },
        { "thousands-or-decimals.csv", 1, ["3|impact energy [J]|1,234|thousands or decimals"] },
        { "open-quote.csv", 0, ["2||never closed|closing quotation mark"] },
        { "two-sources.csv", 1, ["3|source|B for heat K17|A, as in row 2"] },
        { "excluded-without-cause.csv", 0, ["2|state|excluded without a cause|physical cause", "3|state|the state weird|not broken"] },
        { "ambiguous-day.csv", 0, ["2|date|03/04/2026|2026-03-31", "3|date|31/04/2026|2026-03-31"] },
        { "temperature-in-words.csv", 0, ["1|test temperature [°R]|the unit °R|°C, °F or K"] },
        { "two-heat-columns.csv", 0, ["1|cast|second column taken for heat|one such column"] },
        { "wrong-encoding.csv", 0, ["1|test temperature [¡C]|the unit ¡C|°C, °F or K", "1|impact energy [ftálbf]|the unit ftálbf|ft·lbf"] },
        { "merged-readings.xlsx", 1, ["3|impact energy [J]|merged cells over 41.2|one value in each row"] },
        { "formulas.xlsx", 1, ["3|impact energy [J]|#DIV/0!|a figure", "4|impact energy [J]|=SUM(A1:A9)|a figure"] },
        {
            "chemistry-faults.csv", 1,
            [
                "2|element|Xx|symbol of an element", "3|unit|1.4 without a unit|wt% or ppm", "4|unit|the unit oz|wt% or ppm", "5|value|-1 wt%|0 to 100 %",
                "6|value|x|a figure", "7|uncertainty|-0.1|above 0", "9||Co of heat K17 again|each result once",
            ]
        },
    };

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "Broken", "intake");

    [Theory]
    [MemberData(nameof(Files))]
    public void A_broken_file_is_told_with_place_found_and_expected(string file, int goodRows, string[] faults)
    {
        IntakePreview preview = IntakePreview.OfFile(Path.Combine(Folder, file), limits: s_limits);
        string all = string.Join("\n", preview.Faults);
        Assert.Equal(goodRows, preview.Coupons.Count + preview.Chemistry.Count);
        Assert.True(faults.Length == preview.Faults.Count, all);
        foreach ((string expected, IntakeFault fault) in faults.Zip(preview.Faults))
        {
            string[] parts = expected.Split('|');
            Assert.Equal(file, fault.File);
            Assert.Equal(parts[0], fault.Row?.ToString() ?? "");
            if (parts[1].Length > 0) Assert.Equal(parts[1], fault.Column);
            Assert.Contains(parts[2], fault.Found, StringComparison.Ordinal);
            Assert.Contains(parts[3], fault.Expected, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Every_file_of_the_folder_is_in_the_list()
    {
        HashSet<string> listed = [.. Files.Select(f => f.Data.Item1)];
        Assert.DoesNotContain(Directory.EnumerateFiles(Folder).Select(f => Path.GetFileName(f)!), f => f != "README.md" && !listed.Contains(f));
    }

    [Fact]
    public void Missing_hardness_is_a_note_because_the_coupon_still_serves_as_tested() =>
        Assert.Contains(IntakePreview.OfFile(Path.Combine(Folder, "missing-hardness.csv")).Notes, n => n is { Row: 2 } && n.Text.Contains("no hardness", StringComparison.Ordinal));

    [Fact]
    public void A_missing_file_and_a_folder_are_faults_too()
    {
        Assert.Contains("no such file", Assert.Single(IntakePreview.OfFile(Path.Combine(Folder, "none.csv")).Faults).Found, StringComparison.Ordinal);
        Assert.Contains("a folder", Assert.Single(IntakePreview.OfFile(Folder).Faults).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Limits_of_rows_columns_cells_and_size_are_told()
    {
        byte[] table = System.Text.Encoding.UTF8.GetBytes("heat,coupon,impact energy [J]\nK1,1,41\nK1,2,42\n");
        Assert.Contains("rows", Only(TableLimits.Usual with { Rows = 2 }), StringComparison.Ordinal);
        Assert.Contains("columns", Only(TableLimits.Usual with { Columns = 2 }), StringComparison.Ordinal);
        Assert.Contains("characters", Only(TableLimits.Usual with { CellCharacters = 5 }), StringComparison.Ordinal);
        Assert.Contains("MB", Only(TableLimits.Usual with { FileBytes = 10 }), StringComparison.Ordinal);

        string Only(TableLimits limits) => Assert.Single(IntakePreview.OfContent("t.csv", table, limits: limits).Faults).Found;
    }
}
