using System.Globalization;
using System.Text;
using CsCheck;
using Meltwise.Casework.Intake;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

/// <summary>Laws of intake: it never throws, every row is accounted for, and what it exports it reads back.</summary>
public sealed class IntakePropertyTests
{
    private static readonly Gen<string> s_name = Gen.String[Gen.Char["ABCK0123456789-/_ .,;\"'=+@µ°é\n\t"], 1, 8];
    private static readonly Gen<string> s_cell = Gen.OneOf(
        Gen.Const(""), s_name, Gen.Double[-5, 700].Select(d => d.ToString("0.##", CultureInfo.InvariantCulture)), Gen.Double[10, 80].Select(d => d.ToString("0.0", CultureInfo.GetCultureInfo("de-DE"))),
        Words(">120", "<0.05", "61.0; 61.2", "n/a", "-", "excluded", "not broken", "not done", "2026-03-31", "#DIV/0!", "41 J", "30 ft lb", "low", "1,234"));
    private static readonly Gen<string> s_heading = Words(
        "heat", "coupon", "source", "grade", "load", "state", "cause", "date", "order", "temper family", "test temperature [°C]", "hardness [HRC]", "HRC 2", "impact energy [J]",
        "impact energy [ft·lbf]", "wear loss [mm³]", "element", "value", "unit", "remark", "", "code");

    [Fact]
    public void Bytes_of_any_kind_never_throw() =>
        Gen.Byte.Array[0, 300].Sample(bytes => { _ = IntakePreview.OfContent("x.csv", bytes); }, iter: 1000);

    [Fact]
    public void A_workbook_with_any_byte_changed_never_throws()
    {
        byte[] whole = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Broken", "intake", "formulas.xlsx"));
        Gen.Select(Gen.Int[0, whole.Length - 1], Gen.Byte).Array[1, 4].Sample(changes =>
        {
            byte[] bytes = [.. whole];
            foreach ((int at, byte value) in changes) bytes[at] = value;
            _ = IntakePreview.OfContent("x.xlsx", bytes);
        });
    }

    [Fact]
    public void Every_row_that_holds_something_is_a_good_row_a_fault_or_a_note() =>
        Gen.Select(s_heading.Array[1, 8], s_cell.Array[1, 9].Array[1, 12]).Sample((headings, rows) =>
        {
            string text = Csv([headings, .. rows]);
            IntakePreview preview = IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(text));
            HashSet<int> told = [.. preview.Faults.Where(f => f.Row is not null).Select(f => f.Row!.Value), .. preview.Notes.Where(n => n.Row is not null).Select(n => n.Row!.Value)];
            HashSet<int> good = [.. preview.Coupons.Select(r => int.Parse(r.Origin!.Split("row ")[1], CultureInfo.InvariantCulture))];
            bool sheetFault = preview.Faults.Any(f => f.Column is null || f.Found.StartsWith("the unit", StringComparison.Ordinal) || f.Found.StartsWith("a second column", StringComparison.Ordinal));
            if (sheetFault || preview.Chemistry.Count > 0) return preview.Faults.Count > 0 || preview.Coupons.Count == 0;
            return TableReader.Read("x.csv", Encoding.UTF8.GetBytes(text)).Sheets.SelectMany(s => s.Rows).Skip(1).All(r => told.Contains(r.Number) || good.Contains(r.Number));
        });

    [Fact]
    public void Counts_add_up() =>
        Gen.Select(s_heading.Array[1, 8], s_cell.Array[1, 9].Array[1, 12]).Sample((headings, rows) =>
        {
            IntakePreview preview = IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(Csv([headings, .. rows])));
            return preview.FaultyRows >= 0 && (preview.FaultyRows == 0 || preview.Faults.Count > 0) && preview.DataRows >= preview.Coupons.Count + preview.Chemistry.Count;
        });

    private static readonly string[] s_full = ["heat", "coupon", "source", "load", "treatment", "test temperature [°C]", "order", "date", "code", "state", "cause", "hardness [HRC]", "impact energy [J]", "wear loss [mm³]"];

    private static readonly Gen<string[]> s_row = Gen.Select(
        Gen.Select(s_name, s_name, s_name, s_name, s_name), Gen.Select(Gen.Int[-80, 400], Gen.Int[1, 99], Gen.Int[0, 4000], s_name, Gen.Int[0, 3]),
        Gen.Select(Gen.Double[20, 70], Gen.Double[1, 500], Gen.Double[0.1, 900], Gen.Int[0, 3])).Select((names, middle, figures) =>
        {
            string energy = figures.Item2.ToString("0.00", CultureInfo.InvariantCulture);
            return new[]
            {
                names.Item1, names.Item2, names.Item3, names.Item4, names.Item5, middle.Item1.ToString(CultureInfo.InvariantCulture), middle.Item2.ToString(CultureInfo.InvariantCulture),
                new DateOnly(2020, 1, 1).AddDays(middle.Item3).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), middle.Item4,
                new[] { "", "invalid", "excluded", "not broken" }[middle.Item5], middle.Item5 == 0 ? "" : "jammed",
                figures.Item1.ToString("0.0", CultureInfo.InvariantCulture), figures.Item4 switch { 0 => ">" + energy, 1 => energy + " ft lb", 2 => energy + "; 41.20", _ => energy },
                figures.Item3.ToString("0.0", CultureInfo.InvariantCulture),
            };
        });

    [Fact]
    public void What_is_exported_is_read_back_to_the_same_rows() =>
        s_row.Array[1, 15].Sample(rows =>
        {
            IntakePreview first = IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(Csv([s_full, .. rows])));
            using StringWriter export = new();
            CouponTableText.Write(first.Table, export);
            IntakePreview again = IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(export.ToString()));
            if (first.Coupons.Count == 0) return true;
            return again.IsClean && first.Coupons.Select(Canonical).SequenceEqual(again.Coupons.Select(Canonical));
        });

    [Fact]
    public void Exported_chemistry_is_read_back_to_the_same_results() =>
        Gen.Select(Gen.Select(s_name, Words("C", "Cr", "Mo", "V"), s_name, s_name), Gen.Select(Gen.Double[0.0001, 20], Gen.Bool, Gen.Bool, Gen.Int[0, 4000], Gen.Double[0.001, 0.1])).Array[1, 12].Sample(rows =>
        {
            string[][] table = [.. rows.Select(r => new[]
            {
                r.Item1.Item1, r.Item1.Item2, (r.Item2.Item2 ? "<" : "") + r.Item2.Item1.ToString("0.0000", CultureInfo.InvariantCulture), r.Item2.Item3 ? "ppm" : "wt%", r.Item1.Item3, r.Item1.Item4,
                r.Item2.Item5.ToString("0.###", CultureInfo.InvariantCulture), r.Item2.Item3 ? "2" : "", new DateOnly(2020, 1, 1).AddDays(r.Item2.Item4).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            })];
            IntakePreview first = IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(Csv([["heat", "element", "value", "unit", "method", "laboratory", "uncertainty", "coverage factor", "date"], .. table])));
            using StringWriter export = new();
            ChemistryTableText.Write(first.Chemistry, export);
            IntakePreview again = IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(export.ToString()));
            return first.Chemistry.Count == 0 || (again.IsClean && first.Chemistry.SequenceEqual(again.Chemistry));
        });

    [Fact]
    public void An_export_has_no_cell_that_a_spreadsheet_takes_as_a_formula()
    {
        CouponTable table = new([new() { Heat = "=1+1", Coupon = "@x", Cause = "-2", Source = "'=3", Hardness = [CensoredValue.Of(61, "HRC")] }], new HashSet<string> { "source", "cause" }, "t");
        using StringWriter export = new();
        CouponTableText.Write(table, export);
        Assert.DoesNotContain(export.ToString().Split('\r', '\n', ','), c => c.StartsWith('=') || c.StartsWith('@') || c.StartsWith('-'));
        CouponRow row = Assert.Single(IntakePreview.OfContent("x.csv", Encoding.UTF8.GetBytes(export.ToString())).Coupons);
        Assert.Equal(("=1+1", "@x", "-2", "'=3"), (row.Heat, row.Coupon, row.Cause, row.Source));
    }

    private static string Canonical(CouponRow row) => string.Join('|', [
        row.Heat, row.Coupon, row.Source, row.Load, row.Treatment, row.TestTemperatureK?.ToString("R", CultureInfo.InvariantCulture), row.Order?.ToString(CultureInfo.InvariantCulture),
        row.Date?.ToString("O", CultureInfo.InvariantCulture), row.Code, row.State.ToString(), row.Cause, string.Join(';', row.Hardness.Select(h => h.ToString())),
        .. row.Readings.OrderBy(r => r.Key, StringComparer.Ordinal).Select(r => $"{r.Key}={string.Join(';', r.Value.Select(v => $"{v.Text} {v.Unit} {v.Censoring} {v.Value:R}"))}"),
    ]);

    private static Gen<string> Words(params string[] words) => Gen.Int[0, words.Length - 1].Select(i => words[i]);

    private static string Csv(IEnumerable<string[]> rows) => string.Join("\n", rows.Select(r => string.Join(',', r.Select(c => $"\"{c.Replace("\"", "\"\"", StringComparison.Ordinal)}\"")))) + "\n";
}
