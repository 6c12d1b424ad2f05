using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Equal hardness where the history's trend bends: lots that lie on the curve differ in nothing, and the verdict says which line it drew. The fit itself is held against nlme in Meltwise.Statistics.Tests.</summary>
public sealed class BentTrendTests
{
    private static double Energy(double hrc, double bend, int place) => Math.Exp(3.6 - 0.05 * (hrc - 62) + bend * (hrc - 62) * (hrc - 62) + 0.03 * Math.Sin(2.4 * place) + 0.01);

    /// <summary>Eighteen old heats of both sources from 60 to 64 HRC, and two lots, on one curve but for a small scatter.</summary>
    internal static ComparisonInput Input(double bend, double reference, double candidate, DecisionRule? rule = null)
    {
        IEnumerable<CouponRow> Heat(string heat, double hrc, int start) =>
            Enumerable.Range(0, 5).Select(i => Coupons.Row(heat, i + 1, Energy(hrc, bend, start + i), hrc: hrc + 0.1 * (i % 3 - 1)));
        CouponRow[] history = [.. Enumerable.Range(0, 18).SelectMany(h => Heat($"{(h % 2 == 0 ? "K" : "M")}{h}", 60 + 4.0 * h / 17, 7 * h))];
        CouponRow[] lots = [.. Heat("K77", reference, 3), .. Heat("M77", candidate, 3)];
        return new() { Lots = Coupons.Table(lots), History = Coupons.Table(history), Rule = (rule ?? Coupons.Rule()) with { Estimand = Estimand.EqualHardness }, ReferenceHeats = ["K77"], CandidateHeats = ["M77"] };
    }

    private static Verdict Judge(ComparisonInput input) => Comparison.Judge(input, TestContext.Current.CancellationToken);

    [Fact]
    public void Lots_on_the_curve_do_not_differ_at_equal_hardness()
    {
        Verdict verdict = Judge(Input(-0.04, 63.0, 63.8));
        EqualHardness b = verdict.EqualHardness!;
        Assert.Equal("bent", b.TrendShape);
        Assert.InRange(b.Ratio!.Estimate, 0.985, 1.015);
        Assert.True(verdict.AsTested!.Ratio!.Estimate < 0.92);
        // The true slope at 63.4 HRC is -0.05 - 0.08·1.4; over all heats it is -0.05.
        Assert.Equal(-0.162, b.LogPerHrc!.Estimate, 0.02);
        Assert.Equal(18 - 2 - 2, b.LogPerHrc.DegreesOfFreedom);
        Assert.Contains("straightTrend", verdict.Variants!.Outcomes.Keys);
        Assert.Contains(b.Notes, n => n.Contains("let bend", StringComparison.Ordinal) && n.Contains("outside the middle third", StringComparison.Ordinal));
        Assert.Contains("along a bent trend", verdict.Finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_drawn_curve_passes_the_lots()
    {
        EqualHardness b = Judge(Input(-0.04, 63.0, 63.8)).EqualHardness!;
        foreach ((double hrc, LotOffset offset) in new[] { (63.0, b.LotOffsets!.Reference), (63.8, b.LotOffsets.Candidate) })
        {
            Assert.InRange(offset.Offset, -0.03, 0.03);
            Assert.InRange(Math.Exp(b.Trend!.At(hrc)), 0.97 * Energy(hrc, -0.04, 0), 1.03 * Energy(hrc, -0.04, 0));
        }
    }

    [Fact]
    public void A_bend_that_shows_is_followed_in_the_middle_too()
    {
        EqualHardness b = Judge(Input(-0.04, 61.7, 62.3)).EqualHardness!;
        Assert.Equal("bent", b.TrendShape);
        Assert.Contains(b.Notes, n => n.Contains("because the heats show a bend", StringComparison.Ordinal));
    }

    [Fact]
    public void A_straight_history_with_lots_in_its_middle_stays_straight()
    {
        Verdict verdict = Judge(Input(0, 61.7, 62.3));
        Assert.Equal("straight", verdict.EqualHardness!.TrendShape);
        Assert.Null(verdict.EqualHardness.Trend!.Bend);
        Assert.DoesNotContain("straightTrend", verdict.Variants!.Outcomes.Keys);
    }

    // Read with an error as large as their spread, the heats' hardness carries no slope, bent or straight: B is refused, and C must not use one either.
    [Fact]
    public void A_trend_that_is_refused_serves_no_question()
    {
        ComparisonInput input = Input(-0.04, 61.8, 62.2);
        CouponRow Blurred(CouponRow row, int place) => row with { Hardness = [CensoredValue.Of(row.Hardness[0].Value + 4 * (place % 5 - 2), "HRC")] };
        CouponTable history = input.History!;
        Verdict verdict = Judge(input with { History = history with { Rows = [.. history.Rows.Select(Blurred)] } });
        Assert.Equal(Reason.HardnessSpreadTooSmall, verdict.EqualHardness!.Refused);
        Assert.Equal("as-tested", verdict.Sources!.Basis);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Margins_in_hardness_and_sources_follow_the_curve(bool sources)
    {
        ComparisonInput input = Input(-0.04, 63.0, 63.8);
        DecisionRule rule = input.Rule with { Margin = new Margin.InHardness(1), Estimand = sources ? Estimand.Sources : Estimand.EqualHardness };
        Verdict verdict = Judge(input with { Rule = rule });
        EstimandResult result = sources ? verdict.Sources! : verdict.EqualHardness!;
        Assert.Equal(Outcome.Equivalent, result.Outcome);
        Assert.Equal(0, result.LogRatio!.Value, 0.03);
        if (sources) Assert.Contains(verdict.Sources!.Notes, n => n.Contains("along the bent trend", StringComparison.Ordinal));
    }
}
