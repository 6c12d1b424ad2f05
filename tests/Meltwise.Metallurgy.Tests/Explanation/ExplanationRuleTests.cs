using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class ExplanationRuleTests
{
    // Made-up intervals, one for each branch of the stated rule; observed 1.1 ± 0.15 HRC unless given, chain error 0.9 HRC.
    [Theory]
    [InlineData(0.4, 1.3, 1.1, 0.15, ExplanationFinding.Explains)]
    [InlineData(0.2, 0.5, 1.1, 0.05, ExplanationFinding.ExplainsPart)]
    [InlineData(-0.3, 0.4, 1.1, 0.15, ExplanationFinding.CannotBeTold)]
    [InlineData(-0.3, 0.4, 4.0, 0.15, ExplanationFinding.CannotBeExplained)]
    [InlineData(-0.9, -0.4, 4.0, 0.15, ExplanationFinding.CannotBeExplained)]
    [InlineData(-0.9, -0.4, -3.9, 0.15, ExplanationFinding.ExplainsPart)]
    [InlineData(0.4, 0.9, 0.2, 0.15, ExplanationFinding.NothingToExplain)]
    [InlineData(1.4, 2.4, 1.1, 0.15, ExplanationFinding.Explains)]
    [InlineData(1.9, 2.3, 1.1, 0.15, ExplanationFinding.Explains)]
    [InlineData(3.4, 3.8, 1.1, 0.15, ExplanationFinding.CannotBeTold)]
    public void Findings(double lower, double upper, double observed, double uncertainty, ExplanationFinding expected)
    {
        Interval computed = new((lower + upper) / 2, lower, upper, 0.95);
        double half = Math.Sqrt(Math.Pow(1.96 * uncertainty, 2) + computed.HalfWidth * computed.HalfWidth), left = observed - computed.Estimate;
        Assert.Equal(expected, ExplanationRule.Finding(computed, new(observed, uncertainty), new(left, left - half, left + half, 0.95), 0.9));
    }

    [Fact]
    public void Without_an_observation_it_is_a_prediction() =>
        Assert.Equal(ExplanationFinding.PredictionOnly, ExplanationRule.Finding(new(0.5, 0.2, 0.8, 0.95), null, null, 1));

    [Theory]
    [InlineData(ExplanationFinding.Explains, TemperRegion.Low, Strength.Consistent)]
    [InlineData(ExplanationFinding.Explains, TemperRegion.High, Strength.Speculative)]
    [InlineData(ExplanationFinding.CannotBeExplained, TemperRegion.Untempered, Strength.Consistent)]
    [InlineData(ExplanationFinding.CannotBeTold, TemperRegion.Low, Strength.Speculative)]
    public void Strength_follows_the_finding_and_the_temper(ExplanationFinding finding, TemperRegion region, Strength expected) =>
        Assert.Equal(expected, ExplanationRule.StrengthOf(finding, Temper(region, null), false));

    [Fact]
    public void Above_the_low_tempers_a_read_curve_or_own_cases_lift_the_cap_and_a_curve_from_memory_does_not()
    {
        PublishedTemperCurve read = PublishedTemperCurve.All.First(c => c.Grade == "H13"), remembered = PublishedTemperCurve.All.First(c => c.Grade == "D2");
        Assert.Equal(Strength.Consistent, ExplanationRule.StrengthOf(ExplanationFinding.Explains, Temper(TemperRegion.High, read), false));
        Assert.Equal(Strength.Speculative, ExplanationRule.StrengthOf(ExplanationFinding.Explains, Temper(TemperRegion.High, remembered), false));
        Assert.Equal(Strength.Consistent, ExplanationRule.StrengthOf(ExplanationFinding.Explains, Temper(TemperRegion.Trough, null), true));
        Assert.Equal(Strength.Speculative, ExplanationRule.StrengthOf(ExplanationFinding.CannotBeTold, Temper(TemperRegion.High, read), true));
    }

    [Fact]
    public void More_computed_than_observed_is_said_so() =>
        Assert.StartsWith("Consistent with chemistry in direction: it computes 2.1 ± 0.3, more than the 1.2 HRC.",
            ExplanationRule.Sentence(("M03", "K17"), ExplanationFinding.Explains, new(2.1, 1.8, 2.4, 0.95), new(1.2, 0.2), new(-0.9, -1.4, -0.4, 0.95), 1.4), StringComparison.Ordinal);

    [Fact]
    public void The_sentence_names_share_observation_and_what_is_left()
    {
        string sentence = ExplanationRule.Sentence(("M03", "K17"), ExplanationFinding.Explains, new(0.7, 0.4, 1.0, 0.95), new(1.1, 0.08), new(0.4, 0.1, 0.7, 0.95), 0.9);
        Assert.Equal("Consistent with chemistry: it explains 0.7 ± 0.3 of the 1.1 HRC. Left over: 0.4 ± 0.3 HRC, inside the chain's own error of 0.9 HRC, 1 sigma.", sentence);
    }

    private static TemperShift Temper(TemperRegion region, PublishedTemperCurve? curve) =>
        new() { Region = region, Hrc = 0, ErrorHrc = 1, Curve = curve, Meaning = "", Notes = [""], Sources = [] };
}
