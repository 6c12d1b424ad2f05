using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Studying;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Studying;

public sealed class EnquiryStudyTests : OwnBench
{
    private static readonly DateTime s_now = new(2026, 5, 6, 7, 0, 0, DateTimeKind.Utc);

    public EnquiryStudyTests()
    {
        List<BenchChange> changes = [new BenchChange.PutTreatment(new("punch", [new TreatmentStep.Temper(560, 60)])), new BenchChange.PutTreatment(new("cold", [new TreatmentStep.SubZero(-80, 60), new TreatmentStep.Temper(560, 60)]))];
        for (int i = 0; i < 12; i++)
        {
            Coupon coupon = new("K17", $"s{i}", i < 10 ? "L" : "T", "unnotched 7×10×55", i % 2 == 0 ? "punch" : "cold");
            changes.AddRange([new BenchChange.PutCoupon(coupon), new BenchChange.PutReading(new(coupon.Key, "impact energy", 1, CensoredValue.Of(40 + (i % 5) - (i % 2), "J")))]);
        }
        Bench.Commit("A. Tester", null, changes);
        new WriteEnquiry(Bench).New(new("E-1", "Same?"), Hand);
    }

    private Enquiry Enquiry => Bench.FindEnquiry("E-1")!;

    private static StudyChoice Choice(string margin = "0.80..1.25", string? control = "punch") => new()
    {
        Property = "impact energy",
        By = ["treatment"],
        Control = control,
        Margin = margin,
        Where = new Dictionary<string, string> { ["orientation"] = "L" },
    };

    [Fact]
    public void A_study_is_computed_from_the_bench_kept_with_the_enquiry_and_read_back()
    {
        StoredStudy study = EnquiryStudy.Compute(Bench, Choice(), s_now);
        Assert.Equal(10, study.Coupons);
        Assert.Equal([("cold", 5), ("punch", 5)], study.Result.Groups.Select(g => (g.Name, g.N)).Order());
        StudiedPair pair = Assert.Single(study.Result.Comparisons);
        Assert.Equal(("punch", "cold"), (pair.First, pair.Second));
        Bench.Commit("A. Tester", null, [EnquiryStudy.Keep(Enquiry, study)]);
        StoredStudy back = EnquiryStudy.Stored(Bench, "E-1")!;
        Assert.Equal(StudyJson.Write(study), StudyJson.Write(back));
        Assert.Equal(pair.Ratio, back.Result.Comparisons[0].Ratio);
        Bench.Commit("A. Tester", null, [EnquiryStudy.Drop(Enquiry, s_now)]);
        Assert.Null(EnquiryStudy.Stored(Bench, "E-1"));
    }

    [Fact]
    public void Ordered_levels_and_their_values_are_kept_with_the_study()
    {
        StoredStudy study = EnquiryStudy.Compute(Bench, Choice(control: null) with { Order = ["punch", "cold"], LevelValues = "20 | -80 °C" }, s_now);
        Bench.Commit("A. Tester", null, [EnquiryStudy.Keep(Enquiry, study)]);
        StoredStudy back = EnquiryStudy.Stored(Bench, "E-1")!;
        Assert.Equal([20, -80], back.Result.LevelValues!);
        Assert.Equal(("°C", "20 | -80 °C"), (back.Result.LevelUnit, back.Choice.LevelValues));
        Assert.Contains("2 levels", Assert.Throws<StudyFaultException>(() => EnquiryStudy.Compute(Bench, Choice() with { Order = ["punch", "cold"], LevelValues = "20" }, s_now)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_computed_is_said_in_words()
    {
        Assert.Contains("table of properties", Assert.Throws<StudyFaultException>(() => EnquiryStudy.Compute(Bench, Choice() with { Property = "colour" }, s_now)).Message, StringComparison.Ordinal);
        Assert.Throws<StudyFaultException>(() => EnquiryStudy.Compute(Bench, Choice("wide"), s_now));
        Assert.Throws<StudyFaultException>(() => EnquiryStudy.Compute(Bench, Choice(control: "nitrided"), s_now));
        Assert.Contains("colour", Assert.Throws<StudyFaultException>(() => EnquiryStudy.Compute(Bench, Choice() with { Where = new Dictionary<string, string> { ["colour"] = "blue" } }, s_now)).Message, StringComparison.Ordinal);
        Assert.Throws<StudyFaultException>(() => EnquiryStudy.Compute(Bench, Choice() with { Where = new Dictionary<string, string> { ["orientation"] = "S" } }, s_now));
    }
}
