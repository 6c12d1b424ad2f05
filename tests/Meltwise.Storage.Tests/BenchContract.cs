using CsCheck;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Checking;
using Meltwise.Storage.Tests.Engines;
using Xunit;

namespace Meltwise.Storage.Tests;

/// <summary>What every bench does, whichever engine holds it; each engine runs this same suite.</summary>
public abstract class BenchContract : IDisposable
{
    private readonly Lazy<Bench> _bench;

    protected BenchContract() => _bench = new(NewBench);

    protected Bench Bench => _bench.Value;

    protected abstract Bench NewBench();

    public virtual void Dispose()
    {
        if (_bench.IsValueCreated) Bench.Dispose();
        GC.SuppressFinalize(this);
    }

    private void Put(params IEnumerable<BenchChange> changes) => Bench.Commit("A. Tester", null, changes);

    private void PutCoupons()
    {
        Put(Invented.Heat());
        Put(Invented.Coupon("K17", "1"), Invented.Coupon("K17", "2", code: "C-77"), Invented.Coupon("K17", "10", treatment: null));
    }

    [Fact]
    public void A_new_bench_is_empty_and_sound()
    {
        Assert.Equal((0, 0, 0), (Bench.Card.Heats, Bench.Card.Coupons, Bench.Card.Enquiries));
        Assert.Empty(Bench.Heats());
        Assert.Empty(Bench.Trail());
        Assert.True(Bench.Check().IsSound);
    }

    [Fact]
    public void Records_come_back_as_they_were_put()
    {
        Put(Invented.Heat());
        Assert.Equal(new Source("Nordhammer", "Source A", "first source"), Assert.Single(Bench.Sources()));
        Assert.Equal(new Grade("AISI M4", "powder high-speed"), Assert.Single(Bench.Grades()));
        Assert.Equal(new Heat("K17", "Nordhammer", "AISI M4", "powder", null, "bar 40 mm", new DateOnly(2026, 3, 4), "µ ≥ 3 °C"), Assert.Single(Bench.Heats()));
        Treatment treatment = Assert.Single(Bench.Treatments());
        Assert.Equal(Invented.Treatment.Steps, treatment.Steps);
        Assert.Equal("low", treatment.TemperFamily);
        Assert.Equal(Invented.Treatment with { Steps = treatment.Steps }, treatment);
    }

    [Fact]
    public void Readings_keep_digits_as_typed_and_every_tick()
    {
        PutCoupons();
        Reading reading = Invented.Energy("K17", "1", "61.00");
        Put(Invented.Put(reading));
        Assert.Equal(reading, Assert.Single(Bench.Readings(new("K17", "1"))));
        Assert.Equal(reading, Assert.Single(Bench.Readings(new("K17", ""))));
        Assert.Empty(Bench.Readings(new("K17", "2")));
    }

    // Any text and any finite number come back to the bit, on both engines.
    [Fact]
    public void Readings_of_any_content_come_back_to_the_bit()
    {
        PutCoupons();
        int number = 0;
        Gen.Select(Gen.String[Gen.Char["aZ09 .,;'\"\\%_éµ°Ω≥\n"], 0, 12], Gen.Double.Where(double.IsFinite), Gen.Int[0, 2], Gen.Long[0, DateTime.MaxValue.Ticks]).Sample((text, value, censoring, ticks) =>
        {
            Reading reading = new(new("K17", "2"), "wear loss", Interlocked.Increment(ref number), new(value, text, (Censoring)censoring, text), null, text, value, new DateTime(ticks, DateTimeKind.Utc), Cause: text);
            Put(Invented.Put(reading));
            Assert.Equal(reading, Bench.Readings(new("K17", "2")).Single(r => r.Number == reading.Number));
        }, iter: 60, threads: 1);
        Assert.Empty(Bench.Check().Faults);
    }

    [Fact]
    public void Chemistry_of_two_methods_is_kept_apart_and_one_of_the_same_key_corrected()
    {
        Put(Invented.Heat());
        ChemistryResult spark = new("K17", "C", new(1.42, "wt%", Censoring.None, "1.42"), "spark OES", null, 0.02, 2);
        ChemistryResult burnt = new("K17", "C", new(1.39, "wt%", Censoring.None, "1.390"), "combustion", "own", 0.01, null, new DateOnly(2026, 2, 1));
        ChemistryResult sulfur = new("K17", "S", new(5, "ppm", Censoring.Below, "<5"), null, null);
        Put(new BenchChange.PutChemistry(spark), new BenchChange.PutChemistry(burnt), new BenchChange.PutChemistry(sulfur));
        Assert.Equal([spark, burnt, sulfur], Bench.Chemistry("K17"));
        Bench.Commit("A. Tester", "misread", [new BenchChange.PutChemistry(sulfur with { Typed = new(6, "ppm", Censoring.Below, "<6") })]);
        Assert.Equal(["1.42", "1.390", "<6"], Bench.Chemistry().Select(c => c.Typed.Text));
    }

    [Fact]
    public void Instruments_verifications_and_documents_come_back()
    {
        Instrument pendulum = new("P1", "pendulum", "impact energy", "J", 0.1, 5, 40, "8 mm striker");
        Verification first = new("P1", new(2025, 1, 2), new(2026, 1, 1), true, "lot 5", 32.8, 33.1);
        Verification second = first with { On = new(2026, 1, 2), ValidUntil = new(2027, 1, 1), Reference = null };
        Enquiry enquiry = new() { Name = "E-1", Title = "Same steel?" };
        StoredDocument verdict = new("E-1", "verdict", "{\"a\":1}", new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        Put(new BenchChange.PutInstrument(pendulum), new BenchChange.PutVerification(second), new BenchChange.PutVerification(first), new BenchChange.PutEnquiry(enquiry), new BenchChange.PutDocument(verdict));
        Assert.Equal(pendulum, Assert.Single(Bench.Instruments()));
        Assert.Equal([first, second], Bench.Verifications("P1"));
        Assert.Equal(verdict, Bench.FindDocument("E-1", "verdict"));
        Put(new BenchChange.PutDocument(verdict with { Json = "{\"a\":2}" }));
        Assert.Equal("{\"a\":2}", Bench.FindDocument("E-1", "verdict")!.Json);
        Assert.Null(Bench.FindDocument("E-1", "plan"));
    }

    [Fact]
    public void The_readings_of_a_verification_come_back_and_a_record_from_before_keeps_its_digest()
    {
        Verification mean = new("T1", new(2026, 1, 5), new(2026, 1, 5), true, "block 62.4", 62.4, 62.5), read = mean with { On = new(2026, 1, 6), Readings = [62.3, 62.45, 62] };
        Put(new BenchChange.PutInstrument(new("T1", "hardness tester", "hardness", "HRC")), new BenchChange.PutVerification(mean), new BenchChange.PutVerification(read));
        Assert.Equal(mean, Bench.Verifications("T1")[0]);
        Assert.Equal([62.3, 62.45, 62], Bench.Verifications("T1")[1].Readings!);
        // An empty field may be filled without a reason; readings put down may not be altered without one.
        Put(new BenchChange.PutVerification(mean with { Readings = [62.4, 62.6] }));
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutVerification(read with { Readings = [62.3, 62.45, 62.1] })));
        Assert.Contains("readings: 62.3 62.45 62", Bench.Trail("verification", "T1/2026-01-06/block 62.4")[0].Became!, StringComparison.Ordinal);
        Assert.Empty(Bench.Check().Faults);
    }

    [Fact]
    public void A_furnace_trace_comes_back_with_its_file_and_an_altered_file_is_found()
    {
        FurnaceTrace trace = new()
        {
            Name = "T-1",
            Load = "load 3",
            Step = "temper 1",
            Channel = "load [°C]",
            SetC = 560,
            ToleranceC = 5,
            StartedAt = new DateTime(2026, 7, 1, 8, 30, 0, 250),
            Minutes = [0, 0.5, 1.25],
            TemperatureC = [20, 550.1, 561],
            FileName = "run.csv",
            Sha256 = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        };
        Put(new BenchChange.PutFurnaceTrace(trace));
        FurnaceTrace back = Assert.Single(Bench.FurnaceTraces("load 3"));
        Assert.Equal(trace with { Minutes = back.Minutes, TemperatureC = back.TemperatureC }, back);
        Assert.Equal(trace.Minutes, back.Minutes);
        Assert.Equal(trace.TemperatureC, back.TemperatureC);
        Assert.Empty(Bench.Check().Faults);
        Put(new BenchChange.PutFurnaceTrace(trace with { Name = "T-2", Original = "no gzip" }));
        Assert.Contains("Furnace trace T-2 (run.csv, load load 3): the file it came in was altered", Assert.Single(Bench.Check().Faults), StringComparison.Ordinal);
    }

    [Fact]
    public void Custody_position_and_fracture_origin_come_back_and_stand_in_the_trail()
    {
        PutCoupons();
        Custody custody = new("K17", "a carrier", "A. Tester", "bar 40 mm × 600 mm", "blue paint, stamped 17", "NF-1", new(2026, 1, 2), "one half bar", new(2031, 1, 31), "box damaged");
        FractureOrigin origin = new(new("K17", "1"), OriginKind.CarbideCluster, 42.5, 0, "stereo microscope 40×", "near a corner");
        Coupon coupon = Bench.Coupons("K17")[0] with { Position = "slice 2, mid-radius", HardnessMoment = HardnessMoment.AfterTest, HardnessOrder = 7 };
        Put(new BenchChange.PutCustody(custody), new BenchChange.PutFractureOrigin(origin), new BenchChange.PutCoupon(coupon));
        Assert.Equal(custody, Assert.Single(Bench.Custody("K17")));
        Assert.Equal(origin, Assert.Single(Bench.FractureOrigins()));
        Assert.Contains(coupon, Bench.Coupons("K17"));
        CouponRow row = Bench.CouponTable(new()).Rows.Single(r => r.Coupon == "1");
        Assert.Equal(("slice 2, mid-radius", HardnessMoment.AfterTest, 7, origin), (row.Position, row.HardnessMoment, row.HardnessOrder, row.Fracture));
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutFractureOrigin(origin with { Kind = OriginKind.Inclusion })));
        Bench.Commit("A. Tester", "seen again at higher magnification", [new BenchChange.PutFractureOrigin(origin with { Kind = OriginKind.Inclusion })]);
        Assert.Contains("carbide cluster", Bench.Trail("fracture origin", "K17/1")[0].Was!, StringComparison.Ordinal);
        Assert.Single(Bench.Trail("custody", "K17"));
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutCustody(new("X99"))));
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutFractureOrigin(new(new("K17", "99"), OriginKind.Pore))));
        Assert.Empty(Bench.Check().Faults);
    }

    [Fact]
    public void An_enquiry_comes_back_with_rule_stamps_and_every_kind_of_margin()
    {
        DateTime at = new(2026, 5, 6, 7, 8, 9, DateTimeKind.Utc);
        foreach (Margin margin in new Margin[] { new Margin.Ratio(0.8, 1.25), new Margin.Absolute(3, "J"), new Margin.InHardness(1) })
        {
            DecisionRule rule = new() { Property = "impact energy", Margin = margin, Question = Question.NotWorse, Estimand = Estimand.EqualHardness, Alpha = 0.05, Look = 1, Better = GoodDirection.Higher };
            Enquiry enquiry = new()
            {
                Name = "E-2",
                Title = "Is the second source the same steel?",
                ReferenceHeats = ["K17"],
                CandidateHeats = ["M03"],
                Coupons = [new("K17", "1")],
                Rule = rule,
                Lock = new(at, "A. Tester", "abc"),
                Amendments = [new(at, "A. Tester", "client asked", rule, rule with { Alpha = 0.1 }, "abc", "def")],
                Key = new(at, at.AddHours(1)),
                Exclusions = [new(new("K17", "1"), ExclusionCauses.All[0], "dark spot", at, "A. Tester")],
                StagesUtc = new Dictionary<EnquiryStage, DateTime> { [EnquiryStage.Asked] = at, [EnquiryStage.Planned] = at.AddDays(1) },
                WaitsOn = "the furnace",
                Work = [new("chemistry", "Chemlab Example", IsOutside: true)],
                Authoriser = "A. Tester",
                ConflictsOfInterest = "none",
            };
            Put(new BenchChange.PutEnquiry(enquiry));
            Enquiry found = Bench.FindEnquiry("E-2")!;
            Assert.Equal(rule, found.Rule);
            Assert.Equal(enquiry.Amendments, found.Amendments);
            Assert.Equal(enquiry.Exclusions, found.Exclusions);
            Assert.Equal(enquiry.StagesUtc, found.StagesUtc);
            Assert.Equal((enquiry.Lock, enquiry.Key, enquiry.WaitsOn), (found.Lock, found.Key, found.WaitsOn));
            Assert.Equal(enquiry.Coupons, found.Coupons);
            Assert.Equal(enquiry.Work, found.Work);
            Assert.Equal(("A. Tester", "none"), (found.Authoriser, found.ConflictsOfInterest));
        }
        Assert.Null(Bench.FindEnquiry("E-3"));
    }

    [Fact]
    public void A_hot_history_comes_back_to_the_digit_and_a_correction_needs_a_reason()
    {
        Put([.. Invented.Heat()]);
        Assert.Null(Bench.FindHotHistory("K17"));
        HotHistory told = new("K17", [new("consolidation", 1150, 1150, 3.25), new("reheat", 1120, 900.5, 0.7)], 250, "nitrogen", "air", "the maker");
        Put(new BenchChange.PutHotHistory(told));
        HotHistory kept = Bench.FindHotHistory("K17")!;
        Assert.Equal(told with { Steps = kept.Steps }, kept);
        Assert.Equal(told.Steps, kept.Steps);
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutHotHistory(told with { LargestPowderUm = 180 })));
        Bench.Commit("A. Tester", "sieve misread", [new BenchChange.PutHotHistory(told with { LargestPowderUm = 180 })]);
        Assert.Equal(180, Bench.FindHotHistory("K17")!.LargestPowderUm);
        Assert.Equal("sieve misread", Bench.Trail("hot history", "K17")[0].Why);
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutHotHistory(told with { Heat = "M99" })));
        Assert.True(Bench.Check().IsSound);
    }

    [Fact]
    public void Pictures_and_what_was_found_on_them_come_back_and_keep_their_trail()
    {
        PutCoupons();
        string digest = Bench.KeepOriginal(new MemoryStream([1, 2, 3]));
        Assert.Equal(digest, Bench.KeepOriginal(new MemoryStream([1, 2, 3])));
        Picture picture = Invented.Picture("P-2", digest, coupon: "1"), other = Invented.Picture("P-10", digest) with { Mount = null, Field = null, MicrometresPerPixel = null };
        Put(new BenchChange.PutPicture(other), new BenchChange.PutPicture(picture));
        Assert.Equal([picture, other], Bench.Pictures());
        Assert.Equal(picture, Bench.FindPicture("P-2"));
        Assert.Null(Bench.FindPicture("P-3"));
        Assert.Empty(Bench.Pictures("M03"));
        KeptMeasurement found = new("P-2", "{\"level\":120.5}", "{\"count\":12}", "0.2", new DateTime(2026, 5, 6, 7, 8, 9, DateTimeKind.Utc));
        Put(new BenchChange.PutMeasurement(found));
        Put(new BenchChange.PutMeasurement(found with { Result = "{\"count\":13}" }));
        Assert.Equal("{\"count\":13}", Bench.FindMeasurement("P-2")!.Result);
        Assert.Null(Bench.FindMeasurement("P-10"));
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutPicture(picture with { Magnification = "200×" })));
        Bench.Commit("A. Tester", "misread", [new BenchChange.PutPicture(picture with { Magnification = "200×" })]);
        Assert.Equal("misread", Bench.Trail("picture", "P-2")[0].Why);
        Assert.Contains("500×", Bench.Trail("picture", "P-2")[0].Was, StringComparison.Ordinal);
        Assert.Empty(Bench.Check().Faults);
        Assert.Equal([1, 2, 3], File.ReadAllBytes(Bench.OriginalPath(picture)));
    }

    [Fact]
    public void A_picture_of_an_unknown_heat_or_coupon_is_refused_by_name()
    {
        PutCoupons();
        string digest = Bench.KeepOriginal(new MemoryStream([4]));
        Assert.Contains("names the heat M99", Assert.Throws<BenchException>(() => Put(new BenchChange.PutPicture(Invented.Picture("P-1", digest, heat: "M99")))).Message, StringComparison.Ordinal);
        Assert.Contains("names the coupon K17/77", Assert.Throws<BenchException>(() => Put(new BenchChange.PutPicture(Invented.Picture("P-1", digest, coupon: "77")))).Message, StringComparison.Ordinal);
        Assert.Empty(Bench.Pictures());
    }

    [Fact]
    public void A_correction_without_a_reason_is_refused_and_nothing_of_the_batch_is_stored()
    {
        PutCoupons();
        Put(Invented.Put(Invented.Energy("K17", "1", "41.2")));
        BenchException e = Assert.Throws<BenchException>(() => Put(Invented.Put(Invented.Energy("K17", "2", "40.0")), Invented.Put(Invented.Energy("K17", "1", "42.1"))));
        Assert.Contains("K17/1/impact energy/1", e.Message, StringComparison.Ordinal);
        Assert.Contains("41.2", e.Message, StringComparison.Ordinal);
        Assert.Contains("reason", e.Message, StringComparison.Ordinal);
        Assert.Empty(Bench.Readings(new("K17", "2")));
        Assert.Equal("41.2", Assert.Single(Bench.Readings(new("K17", "1"))).Typed.Text);
    }

    [Fact]
    public void Readings_are_found_by_their_instrument_as_they_stand()
    {
        PutCoupons();
        Reading first = Invented.Energy("K17", "1", "41.2") with { Instrument = "P1" };
        Put(new BenchChange.PutInstrument(new("P1", "pendulum", "impact energy", "J")), new BenchChange.PutInstrument(new("P2", "pendulum", "impact energy", "J")), Invented.Put(first));
        Bench.Commit("B. Second", "digits swapped", [Invented.Put(first with { Typed = CensoredValue.Of(42.1, "J") })]);
        Assert.Equal(42.1, Assert.Single(Bench.ReadingsBy("P1")).Typed.Value);
        Assert.Empty(Bench.ReadingsBy("P2"));
    }

    [Fact]
    public void A_correction_keeps_the_old_version_in_the_trail_with_its_reason()
    {
        PutCoupons();
        Put(Invented.Put(Invented.Energy("K17", "1", "41.2")));
        Bench.Commit("B. Second", "digits swapped", [Invented.Put(Invented.Energy("K17", "1", "42.1"))]);
        IReadOnlyList<TrailEntry> history = Bench.Trail("reading", "K17/1");
        Assert.Equal(2, history.Count);
        Assert.Equal(("B. Second", "digits swapped"), (history[0].By, history[0].Why));
        Assert.Contains("41.2", history[0].Was!, StringComparison.Ordinal);
        Assert.Contains("42.1", history[0].Became!, StringComparison.Ordinal);
        Assert.Null(history[1].Was);
        RecordedReading latest = Assert.Single(Bench.LatestReadings(5));
        Assert.Equal("41.2", latest.CorrectedFrom!.Text);
        Assert.Equal("42.1", latest.Reading.Typed.Text);
    }

    [Fact]
    public void A_reading_is_taken_back_with_a_reason_and_stays_in_the_trail()
    {
        PutCoupons();
        Put(Invented.Put(Invented.Energy("K17", "1", "41.2")));
        BenchChange.WithdrawReading undo = new(new("K17", "1"), "impact energy", 1);
        Assert.Throws<BenchException>(() => Put(undo));
        Bench.Commit("A. Tester", "typed into the wrong row", [undo]);
        Assert.Empty(Bench.Readings(new("K17", "1")));
        TrailEntry last = Bench.Trail("reading", "K17/1/impact energy/1")[0];
        Assert.Null(last.Became);
        Assert.Contains("41.2", last.Was!, StringComparison.Ordinal);
        Put(Invented.Put(Invented.Energy("K17", "1", "39.0")));
        Assert.Equal("39.0", Assert.Single(Bench.Readings(new("K17", "1"))).Typed.Text);
        Assert.Throws<BenchException>(() => Bench.Commit("A. Tester", "again", [undo with { Number = 2 }]));
        Assert.True(Bench.Check().IsSound);
    }

    [Fact]
    public void Filling_an_empty_field_needs_no_reason_altering_a_full_one_does()
    {
        Put(Invented.Heat());
        Heat heat = Assert.Single(Bench.Heats());
        Put(new BenchChange.PutHeat(heat with { Consolidation = "isostatic pressing" }));
        Assert.Throws<BenchException>(() => Put(new BenchChange.PutHeat(heat with { Consolidation = "isostatic pressing", Route = "ingot" })));
        Bench.Commit("A. Tester", "certificate arrived", [new BenchChange.PutHeat(heat with { Consolidation = "isostatic pressing", Route = "ingot" })]);
        Assert.Equal("ingot", Assert.Single(Bench.Heats()).Route);
        Assert.Equal(3, Bench.Trail("heat", "K17").Count);
    }

    [Fact]
    public void Putting_the_same_again_adds_nothing()
    {
        PutCoupons();
        int before = Bench.Trail(most: 1000).Count;
        PutCoupons();
        Assert.Equal(before, Bench.Trail(most: 1000).Count);
    }

    [Fact]
    public void A_record_that_names_something_unknown_is_refused_by_name()
    {
        BenchException noSource = Assert.Throws<BenchException>(() => Put(new BenchChange.PutHeat(new("M03", "Nobody", null, null))));
        Assert.Contains("the source Nobody", noSource.Message, StringComparison.Ordinal);
        BenchException noHeat = Assert.Throws<BenchException>(() => Put(Invented.Coupon("M03", "1", null)));
        Assert.Contains("the heat M03", noHeat.Message, StringComparison.Ordinal);
        Put(Invented.Heat());
        BenchException noCoupon = Assert.Throws<BenchException>(() => Put(Invented.Put(Invented.Energy("K17", "9", "40"))));
        Assert.Contains("the coupon K17/9", noCoupon.Message, StringComparison.Ordinal);
        Assert.Empty(Bench.Trail("coupon"));
    }

    [Fact]
    public void The_coupon_table_joins_heat_treatment_and_readings()
    {
        PutCoupons();
        Put(
            Invented.Put(Invented.Hardness("K17", "1", "61.3", 1)), Invented.Put(Invented.Hardness("K17", "1", "61.0", 2)),
            Invented.Put(Invented.Hardness("K17", "1", "40.0", 3) with { State = CouponState.Invalid, Cause = "edge" }),
            Invented.Put(Invented.Energy("K17", "1", "41.2")), Invented.Put(Invented.Energy("K17", "2", "39.9") with { State = CouponState.NotBroken }));
        CouponTable all = Bench.CouponTable(new());
        Assert.Equal(["1", "2", "10"], all.Rows.Select(r => r.Coupon));
        CouponRow first = all.Rows[0];
        Assert.Equal(("Nordhammer", "AISI M4", "powder", "low", "s1"), (first.Source, first.Grade, first.Route, first.TemperFamily, first.Session));
        Assert.Equal(Invented.Treatment.SetValues, first.Treatment);
        Assert.Equal(["61.3", "61.0"], first.Hardness.Select(h => h.Text));
        Assert.Equal("41.2", first.Readings["impact energy"].Single().Text);
        Assert.Equal((296.15, new DateOnly(2026, 5, 6)), (first.TestTemperatureK, first.Date));
        Assert.Equal([CouponState.Valid, CouponState.NotBroken, CouponState.NotDone], all.Rows.Select(r => r.State));
        Assert.Contains("source", all.Columns);
        Assert.DoesNotContain("instrument", all.Columns);
        Assert.Equal(["1", "2"], Bench.CouponTable(new(Heats: ["K17"], Property: "impact energy")).Rows.Select(r => r.Coupon));
        Assert.Equal(["10"], Bench.CouponTable(new(Coupons: [new("K17", "10")])).Rows.Select(r => r.Coupon));
        Assert.Empty(Bench.CouponTable(new(Heats: ["M03"])).Rows);
    }

    [Fact]
    public void Exclusions_of_an_enquiry_are_applied_with_their_stamp()
    {
        PutCoupons();
        Put(Invented.Put(Invented.Energy("K17", "1", "41.2")), Invented.Put(Invented.Energy("K17", "2", "39.9")));
        DateTime opened = new(2026, 6, 1, 0, 0, 0, DateTimeKind.Utc);
        Put(new BenchChange.PutEnquiry(new()
        {
            Name = "E-1",
            Title = "t",
            Key = new(opened.AddDays(-9), opened.AddDays(-1), opened),
            Exclusions = [new(new("K17", "1"), "grinding burn", "brown band", opened.AddDays(-2), "A"), new(new("K17", "2"), "grinding burn", "", opened.AddDays(2), "A")],
        }));
        IReadOnlyList<CouponRow> rows = Bench.CouponTable(new(Property: "impact energy", Enquiry: "E-1")).Rows;
        Assert.All(rows, r => Assert.Equal(CouponState.Excluded, r.State));
        Assert.Equal([true, false], rows.Select(r => r.ExcludedBeforeKeyOpened));
        Assert.Equal(["grinding burn: brown band", "grinding burn"], rows.Select(r => r.Cause));
        Assert.All(Bench.CouponTable(new(Property: "impact energy")).Rows, r => Assert.Equal(CouponState.Valid, r.State));
    }

    [Fact]
    public void Search_finds_heats_codes_and_titles_and_takes_signs_literally()
    {
        PutCoupons();
        Put(new BenchChange.PutEnquiry(new() { Name = "E-1", Title = "Second source of punches" }));
        Assert.Contains(Bench.Find("k1"), h => h is { Kind: "heat", Key: "K17" });
        Assert.Contains(Bench.Find("c-77"), h => h is { Kind: "coupon", Key: "K17/2" });
        Assert.Contains(Bench.Find("PUNCHES"), h => h is { Kind: "enquiry", Key: "E-1" });
        Assert.Contains(Bench.Find("nordh"), h => h.Kind == "source");
        Assert.Empty(Bench.Find("%"));
        Assert.Empty(Bench.Find("' OR 1=1 --"));
        Assert.Empty(Bench.Find(" "));
    }

    [Fact]
    public void Names_are_in_the_order_a_person_expects()
    {
        Put(Invented.Heat("K10").Concat(Invented.Heat("K2")).Concat(Invented.Heat("K1")));
        Assert.Equal(["K1", "K2", "K10"], Bench.Heats().Select(h => h.Name));
    }

    [Fact]
    public void An_intake_is_noted_once()
    {
        Put(new BenchChange.NoteIntake("a.csv", "d1", 5));
        Put(new BenchChange.NoteIntake("a.csv", "d1", 5));
        Assert.True(Bench.HasIntake("d1"));
        Assert.False(Bench.HasIntake("d2"));
        Assert.Single(Bench.Trail("intake"));
    }

    [Fact]
    public void A_change_without_a_name_is_refused() =>
        Assert.Throws<BenchException>(() => Bench.Commit(" ", null, Invented.Heat()));

    [Fact]
    public void The_trail_numbers_every_entry_and_the_check_confirms_the_digests()
    {
        PutCoupons();
        Put(Invented.Put(Invented.Energy("K17", "1", "41.2")));
        Bench.Commit("B", "typo", [Invented.Put(Invented.Energy("K17", "1", "42.1"))]);
        IReadOnlyList<TrailEntry> trail = Bench.Trail(most: 100);
        Assert.Equal(Enumerable.Range(1, trail.Count).Reverse().Select(i => (long)i), trail.Select(t => t.Id));
        BenchFindings findings = Bench.Check();
        Assert.Empty(findings.Faults);
        Assert.Equal((trail.Count, 4), (findings.Entries, findings.Transactions));
    }
}
