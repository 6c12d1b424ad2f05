using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>The worked example of the trade's handbook (two lots of six coupons in ft·lbf; values computed apart from this program, 15 digits) through the whole judging.</summary>
public sealed class CheckValuesTests
{
    private static readonly double[] s_a = [18.2, 21.0, 19.4, 23.1, 20.3, 22.0], s_b = [16.9, 19.8, 18.0, 20.6, 17.4, 21.5];

    [Fact]
    public void Two_lots()
    {
        Verdict verdict = Judge(Coupons.Rule());
        AsTested a = verdict.AsTested!;
        Digits d = new(12);
        Digits.Agree(20.666666666666668, verdict.Lots[0].Mean, d, "mean of A");
        Digits.Agree(1.8661904154363964, verdict.Lots[1].Sd, d, "scatter of B");
        Digits.Agree(3.0254521758015436, Math.Log(verdict.Lots[0].GeometricMean!.Value), d, "log mean of A");
        Digits.Agree(0.0978451951761411, verdict.Lots[1].LogSd, d, "log scatter of B");
        Digits.Agree(0.9201162544812691, a.Ratio!.Estimate, d, "ratio");
        Digits.Agree(0.053179611867062375, a.StandardError, d, "standard error");
        Digits.Agree(9.837780296645604, a.DegreesOfFreedom, d, "degrees of freedom");
        Digits.Agree(0.14902393800944091, a.PDifference, d, "two-sided p");
        Digits.Agree(0.8354349763513433, a.RatioForMargin!.Lower, d, "90 % lower");
        Digits.Agree(1.013380988019102, a.RatioForMargin.Upper, d, "90 % upper");
        Digits.Agree(0.8170849672117054, a.Ratio.Lower, d, "95 % lower");
        Digits.Agree(1.036139392760708, a.Ratio.Upper, d, "95 % upper");
        Digits.Agree(0.012731731246445999, a.PEquivalence, d, "two one-sided tests");
        Digits.Agree(Math.Sqrt(1.2946603132532946), a.Scatter!.RatioOfSd, d, "ratio of scatters");
        Assert.Equal(Outcome.Equivalent, verdict.Finding.Outcome);
        Assert.Empty(verdict.Suspects);
    }

    [Fact]
    public void The_narrower_margin_is_inconclusive()
    {
        Verdict verdict = Judge(Coupons.Rule(1 / 1.15, 1.15));
        Digits.Agree(0.1566835742747983, verdict.AsTested!.PEquivalence, new(12), "two one-sided tests");
        Assert.Equal(Outcome.Inconclusive, verdict.Finding.Outcome);
    }

    // 5 ft·lbf are 6.7790897416570015 J (international yard and pound agreement of 1959).
    [Fact]
    public void A_margin_in_joules_is_converted_to_the_unit_of_the_readings()
    {
        DecisionRule rule = new() { Property = "impact energy", Margin = new Margin.Absolute(6.7790897416570015, "J") };
        Verdict verdict = Judge(rule);
        Digits.Agree(5, verdict.Rule.MarginAbs, new(14), "margin");
        Assert.Equal("ft·lbf", verdict.Rule.Unit);
        Assert.Equal("ft·lbf", verdict.AsTested!.Difference!.Unit);
    }

    // Its adjustment to equal hardness: slope -0.09 ± 0.03 per HRC, candidate 1.2 HRC harder; factor exp(-βΔH), and |ΔH|·u(β) of standard uncertainty beside it.
    [Fact]
    public void Adjustment_to_equal_hardness()
    {
        Verdict verdict = Comparison.Judge(Coupons.Input([.. Coupons.Lot("K17", s_a, "ft·lbf", 62.0), .. Coupons.Lot("M03", s_b, "ft·lbf", 63.2)]) with
        {
            History = Coupons.Table(HeatsWithSlope(-0.09, 0.03)),
        }, TestContext.Current.CancellationToken);
        EqualHardness b = verdict.EqualHardness!;
        Digits d = new(9);
        Digits.Agree(-0.09, b.LogPerHrc!.Estimate, d, "slope");
        Digits.Agree(0.03, b.LogPerHrc.StandardError, d, "its standard error");
        Digits.Agree(1.2, b.HardnessDifference, d, "hardness difference");
        Digits.Agree(1.1140477453864677, b.Ratio!.Estimate / verdict.AsTested!.Ratio!.Estimate, d, "factor");
        Digits.Agree(0.036, Math.Sqrt(b.VarianceParts!["slope"]), d, "standard uncertainty of the factor");
    }

    /// <summary>Twelve heats of two coupons without error in hardness, half a HRC apart, whose means lie off the line by +r, -r, -r, +r in turn: at right angles to it, so that slope and standard error come out as asked.</summary>
    private static IEnumerable<CouponRow> HeatsWithSlope(double slope, double standardError)
    {
        const int heats = 12;
        const double step = 0.5, between = 0.02;
        double spread = step * step * heats * ((heats * heats) - 1) / 12;
        double off = Math.Sqrt(standardError * standardError * spread * (heats - 2) / heats);
        for (int h = 0; h < heats; h++)
        {
            double hrc = 60 + (step * h), mean = 3 + (slope * (hrc - 62)) + (h % 4 is 0 or 3 ? off : -off);
            foreach (CouponRow row in Coupons.Lot($"S{h:D2}", [Math.Exp(mean - between), Math.Exp(mean + between)], "ft·lbf", hrc)) yield return row;
        }
    }

    private static Verdict Judge(DecisionRule rule) =>
        Comparison.Judge(Coupons.Input([.. Coupons.Lot("K17", s_a, "ft·lbf"), .. Coupons.Lot("M03", s_b, "ft·lbf")], rule), TestContext.Current.CancellationToken);
}
