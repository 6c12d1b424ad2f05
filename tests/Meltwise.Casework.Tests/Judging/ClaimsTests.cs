using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>The words of a verdict, on the oracle's made-up cases: fixed sentences, the right interval, nothing claimed too far.</summary>
public sealed class ClaimsTests
{
    private static readonly RuleStanding.Locked s_locked = new(new DateTime(2026, 3, 3, 9, 14, 0, DateTimeKind.Utc), new string('a', 64));

    public static TheoryData<string> Cases => [.. OracleCases.Names];

    [Theory]
    [InlineData("equivalent", "agreed within the margin of 0.80 to 1.25 agreed before testing; no difference was detected", "90 % range")]
    [InlineData("equivalent-detectable", "a small difference was detected: M03 6.5 % higher than K17, smaller than the margin of 0.80 to 1.25", "90 % range")]
    [InlineData("better", "M03 was 50 % higher than K17, more than the margin of 0.80 to 1.25", "95 % range")]
    [InlineData("worse", "M03 was 36 % lower than K17, more than the margin of 0.85 to 1.18", "95 % range")]
    [InlineData("different-open", "M03 is higher than K17, but the test cannot tell whether the gap is large enough to matter", "95 % range")]
    [InlineData("inconclusive", "the test could not show that M03 and K17 agree within 0.87 to 1.15, nor that they differ", "The data fit any ratio from")]
    [InlineData("confounded-loads", "The comparison is not valid because no furnace load holds both lots", "the results are listed for the record")]
    [InlineData("outside-the-trend", "The comparison at equal hardness is not valid because a lot lies 1.6 HRC outside", "the results are listed for the record")]
    public void The_fixed_sentence_of_the_outcome(string name, string sentence, string interval)
    {
        Finding finding = Judge(name, s_locked).Finding;
        Assert.Contains(sentence, finding.Text, StringComparison.Ordinal);
        Assert.Contains(interval, finding.Text, StringComparison.Ordinal);
        Assert.Null(finding.Warning);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Only_what_the_outcome_allows_is_claimed(string name)
    {
        Verdict verdict = Judge(name, s_locked);
        string may = string.Join(" ", verdict.Finding.MayClaim), all = $"{verdict.Finding.Text} {may}";
        Assert.Equal(verdict.Finding.Outcome == Outcome.NoVerdict, verdict.Finding.MayClaim.Count == 0);
        Assert.NotEmpty(verdict.Finding.MayNotClaim);
        Assert.DoesNotContain("the same", all, StringComparison.Ordinal);
        Assert.DoesNotContain("significant", all, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", all, StringComparison.Ordinal);
        Assert.DoesNotContain("  ", all, StringComparison.Ordinal);
        if (may.Contains("interchangeable", StringComparison.Ordinal))
        {
            Assert.True(verdict.Finding.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable);
            Assert.Contains("impact energy within", may, StringComparison.Ordinal);
        }
        Assert.EndsWith(".", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.NotEmpty(verdict.Notes);
    }

    [Fact]
    public void At_equal_hardness_slope_reliability_and_the_ratio_as_tested_are_said()
    {
        string text = Judge("hardness-explains-it", s_locked).Finding.Text;
        Assert.Contains("slope −8.4 % per HRC between heats of a source, from 24 heats", text, StringComparison.Ordinal);
        Assert.Contains("reliability of their hardness 1.00", text, StringComparison.Ordinal);
        Assert.Contains("As tested, without the correction, the ratio was", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Sources_are_claimed_with_their_numbers_of_heats()
    {
        string text = Judge("newcomer-against-incumbent", s_locked).Finding.Text;
        Assert.Contains("source R and source P agreed within", text, StringComparison.Ordinal);
        Assert.Contains("Heats: 1 of R, 21 of P", text, StringComparison.Ordinal);
        Assert.Contains("rests on the heat-to-heat scatter of other heats", text, StringComparison.Ordinal);
    }

    [Fact]
    public void One_heat_of_each_source_is_said_to_be_no_trait_of_the_source()
    {
        Assert.Contains("source and heat cannot be separated", Judge("equivalent", s_locked).Finding.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("source and heat cannot be separated", Judge("one-source", s_locked).Finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_line_says_when_the_rule_was_not_fixed_before()
    {
        Assert.StartsWith("The rule came with a table and is not stamped", Judge("equivalent", new RuleStanding.BareTable()).Finding.Text, StringComparison.Ordinal);
        Assert.StartsWith("The rule is not locked", Judge("equivalent", new RuleStanding.Unlocked()).Finding.Text, StringComparison.Ordinal);
        Assert.StartsWith("The rule was changed after it was locked (1 change, the last on 2026-03-05", Judge("equivalent", new RuleStanding.Amended(s_locked.AtUtc, s_locked.AtUtc.AddDays(2), new string('b', 64), "a bar cracked", 1)).Finding.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("agreed before testing", Judge("equivalent", new RuleStanding.Unlocked()).Finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void More_coupons_than_planned_split_the_error_rate_and_are_said()
    {
        ComparisonInput input = OracleCases.Input(OracleCases.Case("equivalent"));
        Verdict verdict = Comparison.Judge(input with { Rule = input.Rule with { PlannedCouponsPerLot = 6 }, Standing = s_locked }, TestContext.Current.CancellationToken);
        Assert.StartsWith("The rule was not kept", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Equal(0.025, verdict.Rule.Alpha);
        Assert.Equal(0.975, verdict.AsTested!.Ratio!.Level, 1e-12);
    }

    [Theory]
    [InlineData("inconclusive", "40 coupons a lot would likely show agreement if there is truly no difference; 88 if the difference is truly the one seen")]
    [InlineData("different-open", "In all, coupons a lot that would likely show agreement: 75 if the difference is truly the one seen")]
    [InlineData("90-beyond-95-covers-1", "More coupons are unlikely to settle it")]
    public void What_would_settle_it(string name, string words) => Assert.Contains(words, Judge(name, s_locked).Finding.Text, StringComparison.Ordinal);

    [Fact]
    public void A_dissenting_choice_is_named()
    {
        string firmness = Judge("90-beyond-95-not", s_locked).Finding.Firmness!;
        Assert.Contains("under 4 of 5 other choices; this is no probability", firmness, StringComparison.Ordinal);
        Assert.Contains("with one coupon left out: better in this property", firmness, StringComparison.Ordinal);
        Assert.Contains("K17-3", firmness, StringComparison.Ordinal);
    }

    // 5 coupons that scatter four times as much as the other 12: trimmed means hold 92 % and one variance 81 % there (bench/results/calibrate-choices.md).
    [Fact]
    public void Choices_too_bold_for_the_lots_are_named_with_what_they_hold()
    {
        CouponRow[] rows = [.. Coupons.Lot("K17", [20.1, 19.2, 21.0, 20.4, 19.8, 20.6, 19.5, 20.9, 20.2, 19.9, 20.3, 20.0]), .. Coupons.Lot("M03", [16.0, 24.5, 20.5, 18.1, 22.4])];
        string firmness = Comparison.Judge(Coupons.Input(rows), TestContext.Current.CancellationToken).Finding.Firmness!;
        Assert.Contains("simulated with 5 and 12 coupons, the first scattering 3 times as much): one variance for both lots 81 %, trimmed means 92 % in place of 95 %", firmness, StringComparison.Ordinal);
        Assert.DoesNotContain("Too bold", Judge("equivalent", s_locked).Finding.Firmness, StringComparison.Ordinal);
    }

    // Three coupons against six that scatter less: 93 % of 95 %, and the verdict says so; four against four hold their level.
    [Fact]
    public void Unequal_small_lots_are_told_what_their_interval_holds()
    {
        CouponRow[] rows = [.. Coupons.Lot("K17", [20.1, 19.2, 21.0, 20.4, 19.8, 20.6]), .. Coupons.Lot("M03", [18.0, 20.5, 22.9])];
        Assert.Contains(Comparison.Judge(Coupons.Input(rows), TestContext.Current.CancellationToken).Notes, n => n.Contains("with 3 and 6 coupons", StringComparison.Ordinal) && n.Contains("holds 93 %", StringComparison.Ordinal));
        Assert.DoesNotContain(Judge("inconclusive", s_locked).Notes, n => n.Contains("as tested holds", StringComparison.Ordinal));
    }

    [Fact]
    public void Small_lots_are_told_their_odds() => Assert.Contains(Judge("inconclusive", s_locked).Notes, n => n.Contains("about 22 of 100 cases", StringComparison.Ordinal));

    // The bootstrap and the posterior stand beside Welch: near it, and never part of the count.
    [Fact]
    public void What_is_shown_only_is_near_and_not_counted()
    {
        Verdict verdict = Judge("equivalent", s_locked);
        ShownOnly shown = verdict.ShownOnly!;
        Assert.Equal(verdict.AsTested!.Ratio!.Estimate, shown.Bca!.Estimate, 1e-9);
        Assert.InRange(shown.Bca.Lower, verdict.AsTested.Ratio.Lower, verdict.AsTested.Ratio.Lower * 1.05);
        Assert.InRange(shown.PosteriorInsideMargin!.Value, 0.99, 1);
        // The studentized interval is about Welch's; the words tell what either covers with 9 coupons a lot.
        Assert.InRange(shown.Studentized!.Lower / verdict.AsTested.Ratio.Lower, 0.98, 1.02);
        Assert.InRange(shown.Studentized.Upper / verdict.AsTested.Ratio.Upper, 0.98, 1.02);
        Assert.Contains("with lots of 9), BCa", shown.Note, StringComparison.Ordinal);
        Assert.Contains("(90 to 91 %: too narrow)", shown.Note, StringComparison.Ordinal);
        Assert.Contains(shown.Note, verdict.Notes);
        Assert.DoesNotContain(verdict.Variants!.Outcomes.Keys, k => k.Contains("bca", StringComparison.OrdinalIgnoreCase));
        Assert.Equal(1, verdict.Reproduction.Seed);
        Assert.Null(Judge("loads", s_locked).ShownOnly?.Bca);
        Assert.Null(Judge("censored", s_locked).Reproduction.Seed);
    }

    // Balanced heats, three a source: the posterior stands near the contrast on heat means, tells its three chances, and is neither counted nor drawn at random.
    [Fact]
    public void The_posterior_of_the_sources_is_near_and_not_counted()
    {
        Verdict verdict = Judge("several-heats", s_locked);
        SourcesPosterior posterior = verdict.ShownOnly!.Sources!;
        RatioInterval ratio = verdict.Sources!.Ratio!;
        Assert.Equal(ratio.Estimate, posterior.Ratio.Estimate, 0.002);
        Assert.InRange(Math.Log(posterior.Ratio.Upper / posterior.Ratio.Lower) / Math.Log(ratio.Upper / ratio.Lower), 0.5, 1.5);
        Assert.Equal(1, posterior.InsideMargin + posterior.BelowMargin + posterior.AboveMargin, 1e-9);
        Assert.InRange(posterior.HeatToHeatSd, posterior.HeatToHeatSdInterval.Lower, posterior.HeatToHeatSdInterval.Upper);
        Assert.Contains(verdict.Sources.Notes, n => n.Contains("not counted", StringComparison.Ordinal) && n.Contains("no second witness", StringComparison.Ordinal));
        Assert.DoesNotContain(verdict.Variants!.Outcomes.Keys, k => k.Contains("posterior", StringComparison.OrdinalIgnoreCase));
        Assert.Null(verdict.ShownOnly.Bca);
        Assert.Null(verdict.Reproduction.Seed);
    }

    private static Verdict Judge(string name, RuleStanding standing) =>
        Comparison.Judge(OracleCases.Input(OracleCases.Case(name)) with { Standing = standing }, TestContext.Current.CancellationToken);
}
