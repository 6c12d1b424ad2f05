using System.Text;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Tests.Engines;
using Xunit;

namespace Meltwise.Storage.Tests.Intake;

/// <summary>A previewed file onto a real bench.</summary>
public sealed class IntakeRunTests : IDisposable
{
    private const string Heading = "heat,coupon,source,grade,orientation,geometry,treatment,temper family,load,session,instrument,date,state,cause,test temperature [°C],hardness [HRC],impact energy [J]\n";
    private const string Rows =
        "K17,1,Nord,AISI M4,L,unnotched 7×10×55,T1,low,L1,S1,P1,2026-03-31,,,23,61.0;61.2,41.20\n"
        + "K17,2,Nord,AISI M4,L,unnotched 7×10×55,T1,low,L1,S1,P1,2026-03-31,not broken,,23,61.1,>50\n"
        + "M03,1,Sued,AISI M4,L,unnotched 7×10×55,T1,low,L1,S1,P1,2026-03-31,excluded,grinding burn,23,60.4,30.1\n"
        + "M03,2,Sued,AISI M4,L,unnotched 7×10×55,T1,low,L1,,,,not done,,,,\n";

    private readonly BenchFolder _folder = new();
    private readonly Bench _bench;

    public IntakeRunTests() => _bench = BenchFile.Create(_folder.File("own.meltwise"), isDemonstration: false);

    public void Dispose()
    {
        _bench.Dispose();
        _folder.Dispose();
    }

    private static IntakePreview Read(string text, string name = "coupons.csv") => IntakePreview.OfContent(name, Encoding.UTF8.GetBytes(text));

    private IntakeOutcome Store(string text, IntakeChoice? choice = null) => IntakeRun.Store(_bench, Read(text), "A. Tester", choice);

    [Fact]
    public void A_clean_file_is_stored_with_heats_sources_treatments_and_digits()
    {
        IntakeOutcome outcome = Store(Heading + Rows);
        Assert.True(outcome.Stored, outcome.Message);
        Assert.Equal((4, 0), (outcome.CouponRows, outcome.RowsLeftOut));
        Assert.Equal(["Source A", "Source B"], _bench.Sources().Select(s => s.PublicLabel));
        Assert.Equal(("T1", "low"), (_bench.Treatments()[0].Name, _bench.Treatments()[0].TemperFamily));
        Assert.Equal("pendulum", _bench.Instruments()[0].Kind);
        Assert.Equal(["61.0", "61.2", "41.20"], _bench.Readings(new("K17", "1")).Select(r => r.Typed.Text));
        Assert.True(_bench.Check().IsSound);
    }

    [Fact]
    public void The_bench_exports_what_it_took_in()
    {
        Store(Heading + Rows);
        using StringWriter export = new();
        CouponTableText.Write(_bench.CouponTable(new()), export);
        IntakePreview again = Read(export.ToString());
        Assert.True(again.IsClean, string.Join("\n", again.Faults));
        IReadOnlyList<CouponRow> before = Read(Heading + Rows).Coupons;
        Assert.Equal(before.Select(Keys), again.Coupons.Select(Keys));
        Assert.Equal(before.SelectMany(r => r.Hardness.Concat(r.Readings.Values.SelectMany(v => v))), again.Coupons.SelectMany(r => r.Hardness.Concat(r.Readings.Values.SelectMany(v => v))));
        IntakeOutcome outcome = IntakeRun.Store(_bench, again, "A. Tester", cancel: TestContext.Current.CancellationToken);
        Assert.Equal(0, outcome.Changes);

        static object Keys(CouponRow r) => (r.Heat, r.Coupon, r.Source, r.Grade, r.Orientation, r.Geometry, r.Treatment, (r.TemperFamily, r.Load, r.State, r.Cause, r.TestTemperatureK, r.Instrument));
    }

    [Fact]
    public void Position_hardness_moment_and_fracture_origin_survive_export_and_intake()
    {
        const string text = "heat,coupon,position,hardness moment,hardness order,fracture origin,origin size [mm],origin from surface [µm],origin seen by,origin notes,impact energy [J]\n"
            + "K17,1,\"slice 2, mid-radius\",before,3,Carbide cluster,0.0425,120,microscope 40×,=odd text,41.20\n"
            + "K17,2,slice 3,after test,4,oxide,,,,,38.1\nK17,3,,,,none seen,,,,,44.0\nK17,4,,,,,,,,,45.0\n";
        Assert.True(Store(text).Stored);
        FractureOrigin origin = _bench.FractureOrigins("K17")[0];
        Assert.Equal(new(new("K17", "1"), OriginKind.CarbideCluster, 42.5, 120, "microscope 40×", "=odd text"), origin);
        Assert.Equal([OriginKind.CarbideCluster, OriginKind.Inclusion, OriginKind.NoneSeen], _bench.FractureOrigins().Select(o => o.Kind));
        Assert.Equal(("slice 2, mid-radius", HardnessMoment.BeforeTest, 3), (_bench.Coupons("K17")[0].Position, _bench.Coupons("K17")[0].HardnessMoment, _bench.Coupons("K17")[0].HardnessOrder));
        using StringWriter export = new();
        CouponTableText.Write(_bench.CouponTable(new()), export);
        IntakePreview again = Read(export.ToString());
        Assert.True(again.IsClean, string.Join("\n", again.Faults));
        Assert.Equal(Read(text).Coupons.Select(Told), again.Coupons.Select(Told));
        Assert.Equal(0, IntakeRun.Store(_bench, again, "A. Tester", cancel: TestContext.Current.CancellationToken).Changes);
        IntakeFault fault = Assert.Single(IntakeRun.Against(_bench, Read(text.Replace("0.0425", "0.05", StringComparison.Ordinal)), cancel: TestContext.Current.CancellationToken).Conflicts);
        Assert.Equal((2, "origin size"), (fault.Row, fault.Column));

        static object Told(CouponRow r) => (r.Position, r.HardnessMoment, r.HardnessOrder, r.Fracture);
    }

    [Theory]
    [InlineData("fracture origin", "ghost", "carbide cluster")]
    [InlineData("hardness moment", "during", "before or after")]
    [InlineData("origin size [µm]", "42", "inclusion")]
    [InlineData("origin size [inch]", "0.1", "µm or mm")]
    [InlineData("origin from surface [µm]", "-3", "0 or above")]
    public void What_cannot_be_said_of_a_fracture_is_a_fault(string column, string cell, string expected)
    {
        IntakeOutcome outcome = Store($"heat,coupon,{column},impact energy [J]\nK17,1,{cell},41.2\n");
        Assert.False(outcome.Stored);
        Assert.Contains(expected, Assert.Single(outcome.Faults).Expected, StringComparison.Ordinal);
    }

    [Fact]
    public void An_export_of_the_demonstration_is_kept_off_a_bench_of_ones_own()
    {
        using StringWriter export = new();
        CouponTableText.Write(Read(Heading + Rows).Table, export, invented: true);
        IntakePreview preview = Read(export.ToString());
        Assert.True(preview.IsInvented);
        Assert.Contains("invented", IntakeRun.Store(_bench, preview, "A. Tester", cancel: TestContext.Current.CancellationToken).Message, StringComparison.Ordinal);
        Assert.Empty(_bench.Heats());
        using Bench demonstration = BenchFile.Create(_folder.File("demo.meltwise"), isDemonstration: true);
        Assert.True(IntakeRun.Store(demonstration, preview, "A. Tester", cancel: TestContext.Current.CancellationToken).Stored);
    }

    [Fact]
    public void The_same_file_again_adds_nothing_and_says_so()
    {
        Store(Heading + Rows);
        int entries = _bench.Check().Entries;
        IntakeOutcome again = Store(Heading + Rows);
        Assert.True(again.AlreadyStored);
        Assert.Equal(entries, _bench.Check().Entries);
    }

    [Fact]
    public void A_longer_version_of_the_file_adds_only_what_is_new()
    {
        Store(Heading + Rows);
        IntakeOutcome outcome = Store(Heading + Rows + "M03,3,Sued,AISI M4,L,unnotched 7×10×55,T1,low,L1,S1,P1,,,,23,60.2,31.0\n");
        Assert.True(outcome.Stored);
        Assert.Equal(3, outcome.Changes);
        Assert.Equal(5, _bench.Coupons().Count);
    }

    [Fact]
    public void A_file_with_faults_stores_nothing_unless_the_good_rows_are_chosen()
    {
        string text = Heading + Rows + "M03,3,Sued,AISI M4,L,,T1,low,L1,S1,P1,,,,23,60.2,-31.0\n";
        IntakeOutcome refused = Store(text);
        Assert.False(refused.Stored);
        Assert.Single(refused.Faults);
        Assert.Empty(_bench.Coupons());
        IntakeOutcome kept = Store(text, new(KeepGoodRows: true));
        Assert.Equal((true, 4, 1), (kept.Stored, kept.CouponRows, kept.RowsLeftOut));
        // The rest can be mended and read again; what is there is not doubled.
        IntakeOutcome mended = Store(text.Replace("-31.0", "31.0", StringComparison.Ordinal));
        Assert.Equal((true, 3), (mended.Stored, mended.Changes));
    }

    [Fact]
    public void A_row_that_contradicts_the_bench_is_a_fault_until_a_reason_is_given()
    {
        Store(Heading + Rows);
        string changed = (Heading + Rows).Replace("41.20", "42.1", StringComparison.Ordinal);
        IntakeFault fault = Assert.Single(IntakeRun.Against(_bench, Read(changed), cancel: TestContext.Current.CancellationToken).Conflicts);
        Assert.Equal((2, "impact energy"), (fault.Row, fault.Column));
        Assert.Contains("42.1 J", fault.Found, StringComparison.Ordinal);
        Assert.Contains("41.20 J", fault.Expected, StringComparison.Ordinal);
        Assert.False(Store(changed).Stored);
        Assert.Equal("41.20", _bench.Readings(new("K17", "1"))[^1].Typed.Text);
        Assert.True(Store(changed, new(Why: "sheet was copied wrongly")).Stored);
        TrailEntry entry = _bench.Trail("reading", "K17/1/impact energy/1")[0];
        Assert.Equal("sheet was copied wrongly", entry.Why);
        Assert.Contains("41.20", entry.Was!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heat_of_another_source_than_the_bench_knows_is_a_fault()
    {
        Store(Heading + Rows);
        IntakeOutcome outcome = Store("heat,coupon,source,impact energy [J]\nK17,9,Sued,40\n");
        Assert.False(outcome.Stored);
        Assert.Contains(outcome.Faults, f => f.Column == "source" && f.Expected.Contains("Nord", StringComparison.Ordinal));
    }

    [Fact]
    public void Chemistry_is_stored_once_and_makes_its_heat()
    {
        const string text = "heat,element,value,unit,method\nK17,C,1.42,wt%,combustion\nK17,O,<5,ppm,\n";
        Assert.True(Store(text).Stored);
        Assert.True(Store(text).AlreadyStored);
        Assert.Equal(2, _bench.Chemistry("K17").Count);
        Assert.False(Store(text.Replace("1.42", "1.45", StringComparison.Ordinal)).Stored);
    }

    [Fact]
    public void A_hot_history_is_stored_once_filled_and_corrected_with_a_reason_only()
    {
        const string text = "heat,step,from [°C],to [°C],time [h],atmosphere\nK17,consolidation,1150,,4,nitrogen\nK17,reheat,1140,950,3,\nM03,soak,2012 °F,,90 min,\n";
        IntakeOutcome outcome = Store(text);
        Assert.True(outcome.Stored, outcome.Message);
        Assert.Equal((3, 0, 4), (outcome.HotHistoryRows, outcome.RowsLeftOut, outcome.Changes));
        Assert.Equal([new("consolidation", 1150, 1150, 4), new("reheat", 1140, 950, 3)], _bench.FindHotHistory("K17")!.Steps);
        Assert.Equal([new("soak", 1100, 1100, 1.5)], _bench.FindHotHistory("M03")!.Steps);
        Assert.True(Store(text).AlreadyStored);
        Assert.Equal(0, Store(text + "\n").Changes);

        // What is empty on the bench is filled; what contradicts it waits for a reason.
        Assert.Equal(1, Store("heat,from [°C],time [h],cooling\nK17,,,slow\n").Changes);
        Assert.Equal(("nitrogen", "slow", 2), (_bench.FindHotHistory("K17")!.Atmosphere, _bench.FindHotHistory("K17")!.Cooling, _bench.FindHotHistory("K17")!.Steps.Count));
        const string other = "heat,step,from [°C],time [h],atmosphere\nK17,consolidation,1160,4,argon\nH01,soak,1000,1,\n";
        IntakeOutcome refused = Store(other);
        Assert.False(refused.Stored);
        Assert.Equal([("hot history", 2), ("atmosphere", 2)], refused.Faults.Select(f => (f.Column!, f.Row!.Value)));
        Assert.Equal((1, 1), (Store(other, new(KeepGoodRows: true)).HotHistoryRows, _bench.FindHotHistory("H01")!.Steps.Count));
        Assert.Equal("nitrogen", _bench.FindHotHistory("K17")!.Atmosphere);
        Assert.True(Store(other, new(Why: "certificate came later")).Stored);
        Assert.Equal(("argon", 1160), (_bench.FindHotHistory("K17")!.Atmosphere, _bench.FindHotHistory("K17")!.Steps[0].FromC));
        Assert.True(_bench.Check().IsSound);
    }

    [Fact]
    public void A_suspected_slip_of_unit_stops_the_intake_until_confirmed()
    {
        StringBuilder history = new("heat,coupon,hardness [HRC],impact energy [J]\n");
        for (int heat = 0; heat < 10; heat++)
            for (int i = 0; i < 4; i++) history.Append(System.Globalization.CultureInfo.InvariantCulture, $"H{heat},{i},{60 + (0.2 * heat):0.0},{40 - heat + i:0.0}\n");
        Store(history.ToString());
        const string slipped = "heat,coupon,hardness [HRC],impact energy [ft·lbf]\nN1,1,61.0,36\nN1,2,61.0,38\nN1,3,61.0,37\n";
        IntakeOutcome outcome = Store(slipped);
        Assert.False(outcome.Stored);
        Assert.Contains("as 37 J it would fit", outcome.Message, StringComparison.Ordinal);
        Assert.Empty(_bench.Coupons("N1"));
        Assert.Single(IntakeRun.Against(_bench, Read(slipped), cancel: TestContext.Current.CancellationToken).Suspicions);
        Assert.True(Store(slipped, new(AcceptSuspicions: true)).Stored);
    }
}
