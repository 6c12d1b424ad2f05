using System.Text;
using Meltwise.Casework.Intake;
using Meltwise.Domain;
using SpreadCheetah;
using SpreadCheetah.Styling;
using SpreadCheetah.Worksheets;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

/// <summary>The forms tables come in.</summary>
public sealed class TableFormsTests
{
    private const string Plain = "Heat;Coupon;Prüftemperatur;Hardness [HRC];Impact energy [ft·lbf]\nK17;1;23;61,0;30,5\nK17;2;23;61,25;>120\n";

    static TableFormsTests() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    public static TheoryData<string, Encoding, bool> Encodings { get; } = new()
    {
        { "UTF-8", new UTF8Encoding(false), false }, { "UTF-8 with mark", new UTF8Encoding(true), true }, { "UTF-16 with mark", Encoding.Unicode, true },
        { "UTF-16 without mark", Encoding.Unicode, false }, { "UTF-16 other order", Encoding.BigEndianUnicode, true }, { "Latin-1", Encoding.Latin1, false },
    };

    [Theory]
    [MemberData(nameof(Encodings))]
    public void Every_encoding_gives_the_same_rows(string name, Encoding encoding, bool mark)
    {
        byte[] content = [.. mark ? encoding.GetPreamble() : [], .. encoding.GetBytes(Plain)];
        IntakePreview preview = IntakePreview.OfContent("a.csv", content, [new("Prüftemperatur", "test temperature [°C]")]);
        Assert.True(preview.IsClean, name + string.Join("\n", preview.Faults));
        Assert.Equal(["61.0", "61.25"], preview.Coupons.Select(r => r.Hardness.Single().Text));
        CensoredValue[] energies = [.. preview.Coupons.Select(r => r.Readings["impact energy"].Single())];
        Assert.Equal([(30.5, "ft·lbf", Censoring.None, "30.5"), (120, "ft·lbf", Censoring.Above, ">120")], energies.Select(e => (e.Value, e.Unit, e.Censoring, e.Text)));
        Assert.All(preview.Coupons, r => Assert.Equal(296.15, r.TestTemperatureK));
    }

    [Theory]
    [InlineData("\t", "\r\n")]
    [InlineData(";", "\n")]
    [InlineData(",", "\r")]
    public void Every_separator_and_line_ending_is_read(string separator, string ending)
    {
        string text = string.Join(ending, new[] { "heat|coupon|impact energy [J]", "K17|1|41.2", "K17|2|40.0" }).Replace("|", separator, StringComparison.Ordinal);
        IntakePreview preview = Read(text);
        Assert.Equal(["41.2", "40.0"], preview.Coupons.Select(r => r.Readings["impact energy"].Single().Text));
        Assert.Equal(["a.csv row 2", "a.csv row 3"], preview.Coupons.Select(r => r.Origin));
    }

    // A coupon tested as delivered had no treatment, which is known; a dash says that it is not known.
    [Fact]
    public void No_treatment_is_a_treatment_and_not_an_empty_cell()
    {
        IntakePreview preview = Read("heat;coupon;orientation;treatment;impact energy [J]\nK17;1;L;none;41.2\nK17;2;L;None;40.0\nK17;3;none;-;39.1\nK17;4;L;unknown;40.3\n");
        Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
        Assert.Equal(["none", "None", null, null], preview.Coupons.Select(r => r.Treatment));
        Assert.Null(preview.Coupons[2].Orientation);
    }

    // RFC 4180, section 2, items 5 to 7: quoted fields, a line break inside one, a doubled quote.
    [Fact]
    public void Quoted_cells_follow_RFC_4180()
    {
        RawFile raw = TableReader.Read("rfc.csv", Encoding.UTF8.GetBytes("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n\"aaa\",\"b\"\"bb\",\"ccc\""));
        IReadOnlyList<RawRow> rows = Assert.Single(raw.Sheets).Rows;
        Assert.Equal([["aaa", "b\r\nbb", "ccc"], ["zzz", "yyy", "xxx"], ["aaa", "b\"bb", "ccc"]], rows.Select(r => r.Cells));
        Assert.Equal([1, 3, 4], rows.Select(r => r.Number));
    }

    [Fact]
    public void Titles_blank_lines_repeated_headings_and_notes_below_are_told_and_not_taken_for_rows()
    {
        IntakePreview preview = Read("Results of March\n\nheat,coupon,impact energy [J]\nK17,1,41.2\n\nheat,coupon,impact energy [J]\nK17,2,40.0\n\nPendulum verified in January\nAll at 23 °C,,\n");
        Assert.True(preview.IsClean);
        Assert.Equal(2, preview.Coupons.Count);
        Assert.Equal(2, preview.DataRows);
        Assert.Equal([1, 6, 9, 10], preview.Notes.Where(n => n.Row is not null).Select(n => n.Row!.Value));
    }

    [Fact]
    public void A_row_without_names_between_rows_is_a_fault_not_a_note()
    {
        IntakePreview preview = Read("heat,coupon,impact energy [J]\nK17,1,41.2\nsecond day,,\nK17,2,40.0\n");
        Assert.Equal(3, Assert.Single(preview.Faults).Row);
        Assert.Equal((3, 1), (preview.DataRows, preview.FaultyRows));
    }

    [Fact]
    public void Repeated_hardness_comes_as_columns_or_parted_by_semicolons()
    {
        IntakePreview columns = Read("heat,coupon,hardness 1 [HRC],HRC 2,Hardness 3 HRC,impact energy J\nK17,1,61.0,61.2,60.9,41\n");
        IntakePreview cells = Read("heat,coupon,hardness [HRC],impact energy (J)\nK17,1,61.0; 61.2;60.9,41\n");
        foreach (IntakePreview preview in new[] { columns, cells })
        {
            Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
            Assert.Equal(["61.0", "61.2", "60.9"], preview.Coupons[0].Hardness.Select(h => h.Text));
        }
    }

    [Fact]
    public void A_column_is_named_by_hand_left_out_and_a_wrong_name_is_told()
    {
        const string text = "Schmelze,Nr,Energy,Rest\nK17,1,41.2,x\n";
        ColumnMap[] maps = [ColumnMap.Read("Schmelze=heat")!, ColumnMap.Read("nr=coupon")!, ColumnMap.Read("Energy=impact energy [ft-lb]")!, ColumnMap.Read("Rest=-")!];
        IntakePreview preview = IntakePreview.OfContent("a.csv", Encoding.UTF8.GetBytes(text), maps);
        Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
        Assert.Equal("ft·lbf", preview.Coupons[0].Readings["impact energy"][0].Unit);
        Assert.Equal(["heat", "coupon", "impact energy [ft·lbf]", "not read"], preview.Columns.Select(c => c.Meaning));
        Assert.All(preview.Columns, c => Assert.True(c.ByUser));
        IntakePreview wrong = IntakePreview.OfContent("a.csv", Encoding.UTF8.GetBytes(text), [.. maps, new("Enrgy", "impact energy [J]"), new("Rest", "nonsense")]);
        Assert.Contains("Enrgy", Assert.Single(wrong.Faults).Column, StringComparison.Ordinal);
        Assert.Null(ColumnMap.Read("no sign"));
    }

    [Fact]
    public void Columns_that_mean_nothing_are_named_and_left()
    {
        IntakePreview preview = Read("heat,coupon,impact energy [J],remark\nK17,1,41.2,fine\n");
        Assert.True(preview.IsClean);
        Assert.Contains(preview.Notes, n => n.Text == "Columns not read: remark.");
    }

    [Fact]
    public void A_property_outside_the_table_is_read_with_its_unit_and_said()
    {
        IntakePreview preview = Read("heat,coupon,edge retention [mm]\nK17,1,712\n");
        Assert.Equal((712, "mm"), (preview.Coupons[0].Readings["edge retention"][0].Value, preview.Coupons[0].Readings["edge retention"][0].Unit));
        Assert.Contains(preview.Notes, n => n.Text.Contains("not in the table of properties", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("Absorbed energy KV2 [J]", "impact energy [J]")]
    [InlineData("KV (J)", "impact energy [J]")]
    [InlineData("Charpy impact energy, unnotched [ft-lb]", "impact energy [ft·lbf]")]
    [InlineData("core hardness [HRC]", "hardness [HRC]")]
    [InlineData("\"Impact\nenergy\n[J]\"", "impact energy [J]")]
    [InlineData("fatigue strength [MPa]", "fatigue strength [MPa]")]
    public void Headings_are_recognised_as_people_write_them(string heading, string meaning) =>
        Assert.Equal(meaning, Read($"heat,coupon,\"{heading.Trim('"')}\"\nK17,1,41.2\n").Columns[2].Meaning);

    [Fact]
    public void A_heading_over_several_lines_is_named_by_hand_on_one() =>
        Assert.True(IntakePreview.OfContent("a.csv", Encoding.UTF8.GetBytes("heat,coupon,\"E\nmeasured\"\nK17,1,41.2\n"), [new("E measured", "impact energy [J]")]).IsClean);

    [Fact]
    public void All_key_columns_are_read()
    {
        IntakePreview preview = Read(
            "heat,coupon,supplier,grade,route,orientation,geometry,test temperature [°F],treatment,temper family,load,session,order,instrument,date,code,bar position,hardness moment,hardness order,fracture origin,origin size [µm],origin depth,origin seen by,origin notes,state,cause,impact energy [J]\n"
            + "K17,1,Nord,AISI M4,powder,L,unnotched 7×10×55,73.4,T1,Low,L3,S1,7,P1,31.03.2026,C9,slice 2,before,5,slag,30,100,microscope,dark,not broken,ran out,41.2 J\n");
        CouponRow row = Assert.Single(preview.Coupons);
        Assert.Equal(("Nord", "AISI M4", "powder", "L", "unnotched 7×10×55"), (row.Source, row.Grade, row.Route, row.Orientation, row.Geometry));
        Assert.Equal(("T1", "low", "L3", "S1", 7, "P1"), (row.Treatment, row.TemperFamily, row.Load, row.Session, row.Order, row.Instrument));
        Assert.Equal((new DateOnly(2026, 3, 31), "C9", CouponState.NotBroken, "ran out"), (row.Date, row.Code, row.State, row.Cause));
        Assert.Equal(("slice 2", HardnessMoment.BeforeTest, 5), (row.Position, row.HardnessMoment, row.HardnessOrder));
        Assert.Equal(new(new("K17", "1"), OriginKind.Inclusion, 30, 100, "microscope", "dark"), row.Fracture);
        Assert.Equal(296.15, row.TestTemperatureK!.Value, 9);
        Assert.Equal(Censoring.Above, row.Readings["impact energy"][0].Censoring);
        Assert.Equal(CouponTable.KeyColumns.ToHashSet(), preview.KeyColumns.Except(["heat", "coupon"]).ToHashSet());
    }

    [Fact]
    public void A_chemistry_table_keeps_methods_limits_and_uncertainties()
    {
        IntakePreview preview = Read("heat,element,value,unit,method,laboratory,uncertainty,coverage factor,date\nK17,c,1.42,%,combustion,own,±0.02,2,2026-02-01\nK17,O,<5,ppm,,,,,\n");
        Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
        Assert.Equal([
            new("K17", "C", new(1.42, "wt%", Censoring.None, "1.42"), "combustion", "own", 0.02, 2, new(2026, 2, 1)),
            new ChemistryResult("K17", "O", new(5, "ppm", Censoring.Below, "<5"), null, null),
        ], preview.Chemistry);
    }

    [Fact]
    public async Task A_workbook_keeps_shown_digits_days_percentages_and_fills_merged_names()
    {
        using MemoryStream stream = new();
        await using (Spreadsheet book = await Spreadsheet.CreateNewAsync(stream, cancellationToken: TestContext.Current.CancellationToken))
        {
            StyleId oneDecimal = book.AddStyle(new Style { Format = NumberFormat.Custom("0.0") });
            StyleId day = book.AddStyle(new Style { Format = NumberFormat.Custom("dd/mm/yyyy") });
            StyleId percent = book.AddStyle(new Style { Format = NumberFormat.Custom("0%") });
            await book.StartWorksheetAsync("Empty", token: TestContext.Current.CancellationToken);
            await book.StartWorksheetAsync("Coupons", token: TestContext.Current.CancellationToken);
            await Add(new Cell("heat"), new Cell("coupon"), new Cell("date"), new Cell("hardness [HRC]"), new Cell("retained austenite [vol%]"));
            await Add(new Cell("K17"), new Cell(1), new Cell(46112, day), new Cell(61.0, oneDecimal), new Cell(0.07, percent));
            await Add(new Cell(), new Cell(2), new Cell(46112, day), new Cell(61.25, oneDecimal), new Cell(0.07, percent));
            book.MergeCells("A2:A3");
            await book.FinishAsync(TestContext.Current.CancellationToken);

            ValueTask Add(params Cell[] cells) => book.AddRowAsync(cells, TestContext.Current.CancellationToken);
        }
        IntakePreview preview = IntakePreview.OfContent("a.xlsx", stream.ToArray());
        Assert.True(preview.IsClean, string.Join("\n", preview.Faults));
        Assert.Equal(["61.0", "61.25"], preview.Coupons.Select(r => r.Hardness.Single().Text));
        Assert.All(preview.Coupons, r => Assert.Equal(("K17", new DateOnly(2026, 3, 31)), (r.Heat, r.Date)));
        Assert.All(preview.Coupons, r => Assert.Equal((7, "7"), (r.Readings["retained austenite"][0].Value, r.Readings["retained austenite"][0].Text)));
        Assert.Equal("a.xlsx, sheet Coupons, row 2", preview.Coupons[0].Origin);
    }

    private static IntakePreview Read(string text) => IntakePreview.OfContent("a.csv", Encoding.UTF8.GetBytes(text));
}
