using Meltwise.Casework.Judging;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Fields of two mounts against a margin: intervals from scipy 1.10.1 (Welch's t on logarithms; p of ttest_ind(equal_var=False) agrees), outcomes by the decision table. The areas are invented.</summary>
public sealed class PictureJudgementTests
{
    private static readonly double[] s_reference = [0.118, 0.124, 0.131, 0.120, 0.127];

    private static readonly LotFields s_threeMounts = new([0.118, 0.124, 0.131, 0.120, 0.127, 0.113, 0.136, 0.129, 0.133], ["A", "A", "A", "B", "B", "B", "C", "C", "C"]);
    private static readonly LotFields s_candidateMounts = new([0.141, 0.150, 0.138, 0.149, 0.131, 0.136, 0.147, 0.139, 0.151], ["D", "D", "D", "D", "E", "E", "F", "F", "F"]);

    [Theory]
    [InlineData(new[] { 0.121, 0.126, 0.119, 0.129 }, Outcome.Equivalent, 0.9981852676244936, 0.9493942974584851, 1.049483687831136, 0.937617396928641, 1.0626656798033072)]
    [InlineData(new[] { 0.141, 0.150, 0.138, 0.149 }, Outcome.EquivalentDetectable, 1.165418587887752, 1.1049992393725672, 1.229141556482415, 1.0903004164250563, 1.245712158349561)]
    [InlineData(new[] { 0.190, 0.176, 0.201, 0.185 }, Outcome.Higher, 1.515467135323057, 1.418596505160208, 1.6189526971835473, 1.393894309311677, 1.6476433133430204)]
    [InlineData(new[] { 0.09, 0.19, 0.12, 0.16 }, Outcome.Inconclusive, 1.0863314272945621, 0.7390998783921024, 1.5966934976300635, 0.6466837957641751, 1.824873265199599)]
    public void Intervals_are_Welchs_and_outcomes_the_tables(double[] candidate, Outcome outcome, double ratio, double narrowLow, double narrowHigh, double wideLow, double wideHigh)
    {
        JudgedQuantity judged = PictureJudgement.Judge("area fraction", s_reference, candidate, 0.8, 1.25);
        Assert.Equal(outcome, judged.Outcome);
        Assert.Equal(ratio, judged.Ratio!.Value, 1e-12);
        Assert.Equal(narrowLow, judged.Narrow!.Value.Lower, 1e-9);
        Assert.Equal(narrowHigh, judged.Narrow.Value.Upper, 1e-9);
        Assert.Equal(wideLow, judged.Wide!.Value.Lower, 1e-9);
        Assert.Equal(wideHigh, judged.Wide.Value.Upper, 1e-9);
    }

    // Welch's t on the mean logarithm of each mount: t.test of R 4.2.2. The areas are invented.
    [Fact]
    public void Fields_of_several_mounts_are_sub_samples_of_them()
    {
        JudgedQuantity judged = PictureJudgement.Judge("area fraction", s_threeMounts, s_candidateMounts, 0.8, 1.25);
        Assert.Equal(1.124227409328936, judged.Ratio!.Value, 1e-12);
        Assert.Equal(1.030970079066256, judged.Narrow!.Value.Lower, 1e-9);
        Assert.Equal(1.225920415683786, judged.Narrow.Value.Upper, 1e-9);
        Assert.Equal(1.004269083730024, judged.Wide!.Value.Lower, 1e-9);
        Assert.Equal(1.258514563837971, judged.Wide.Value.Upper, 1e-9);
        Assert.Equal(Outcome.EquivalentDetectable, judged.Outcome);
        Assert.Equal("9 fields of 3 mounts; 9 fields of 3 mounts", judged.Basis);
    }

    // Mean squares of anova(lm()) of R 4.2.2, put into the method of moments.
    [Fact]
    public void Scatter_between_mounts_and_between_fields_is_told_apart()
    {
        MountScatter scatter = MountScatter.Of(s_candidateMounts)!;
        Assert.Equal(0.03605404153948884, scatter.BetweenMounts, 1e-12);
        Assert.Equal(0.03942311724813095, scatter.BetweenFields, 1e-12);
        Assert.Equal((3, 9), (scatter.Mounts, scatter.Fields));
    }

    [Fact]
    public void One_unknown_mount_makes_fields_the_sample()
    {
        LotFields some = new(s_reference, ["A", "A", "B", "B", null]);
        Assert.Null(some.ByMount);
        Assert.Null(MountScatter.Of(some));
        Assert.Equal(PictureJudgement.Judge("x", s_reference, s_reference, 0.8, 1.25).Wide, PictureJudgement.Judge("x", some, some, 0.8, 1.25).Wide);
    }

    [Fact]
    public void Turned_round_higher_is_lower()
    {
        JudgedQuantity judged = PictureJudgement.Judge("area fraction", [0.190, 0.176, 0.201, 0.185], s_reference, 0.8, 1.25);
        Assert.Equal(Outcome.Lower, judged.Outcome);
        Assert.Equal(1 / 1.515467135323057, judged.Ratio!.Value, 1e-12);
    }

    [Theory]
    [InlineData(new[] { 0.1, 0.0 }, "a field without particles has no ratio")]
    [InlineData(new[] { 0.1 }, "fewer than two fields of a heat")]
    [InlineData(new[] { 0.1, 0.1, 0.1 }, "all fields of a heat are alike, so nothing is known of their scatter")]
    public void What_cannot_be_judged_has_no_verdict_and_says_why(double[] candidate, string reason)
    {
        JudgedQuantity judged = PictureJudgement.Judge("area fraction", s_reference, candidate, 0.8, 1.25);
        Assert.Equal(Outcome.NoVerdict, judged.Outcome);
        Assert.Equal(reason, judged.Reason);
        Assert.Null(judged.Wide);
    }

    [Theory]
    [InlineData(1.0, 1.25)]
    [InlineData(0.8, 1.0)]
    [InlineData(0.0, 1.25)]
    [InlineData(0.8, double.PositiveInfinity)]
    public void A_margin_that_does_not_hold_one_is_refused(double low, double high) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PictureJudgement.Judge("area fraction", s_reference, s_reference, low, high));
}
