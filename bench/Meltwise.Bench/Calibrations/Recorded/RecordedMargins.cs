using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Trend;
using static System.FormattableString;

namespace Meltwise.Calibrations;

/// <summary>A margin of 1 HRC through an estimated slope that is drawn anew each time, judged as the verdict does and, as a choice of how firm, as a plain number.</summary>
internal static class RecordedMargins
{
    private const int Coupons = 15;
    private const double Cv = 0.08;

    private static readonly ResolvedRule s_rule = ResolvedRule.From(new() { Property = "impact energy", Margin = new Margin.InHardness(1) }, "J", Coupons);

    public static RecordedKind Of(JsonElement block) => RecordedRates.Kind("margin in hardness", "The verdict's two tests with the slope's own error, and the margin as a plain number.", ["marginNotResolved", "equivalentMarginUncertain", "equivalentMarginAsNumber"],
        block.GetProperty("rows").EnumerateArray().Select(r => (r, r, Of1(r))), 40_000, 1_000, 1, 531);

    private static Design Of1(JsonElement r)
    {
        double truth = RecordedRates.Number(r, "trueSlope"), se = RecordedRates.Number(r, "slopeSe"), df = RecordedRates.Number(r, "slopeDf"), ratio = RecordedRates.Number(r, "trueRatio");
        bool[] candidate = [.. Enumerable.Range(0, 2 * Coupons).Select(i => i < Coupons)];
        return new(Invariant($"slope {truth} ± {se} on {df} degrees of freedom, ratio {ratio}"), (ref RandomStream random, Tally tally) =>
        {
            SlopeOnHardness slope = new(truth + se * random.Normal(), se * Math.Sqrt(random.ChiSquared(df) / df), df);
            double[] z = [.. IntervalRates.Draw(ref random, Coupons, Math.Log(ratio), Cv), .. IntervalRates.Draw(ref random, Coupons, 0, Cv)];
            LotContrast contrast = WithinLoadContrast.Fit(z, candidate, new int[z.Length], 1)!;
            VariancePart[] parts = [.. contrast.Scatter.Select(s => s.Part)];
            bool resolved = slope.Slope + StudentT.Quantile(0.975, df) * slope.StandardError < 0;
            tally.Add(0, !resolved);
            tally.Add(1, resolved && Agrees(JudgedContrast.From(contrast.Estimate, parts, s_rule.WithRatio(0.5, 2)).AgainstHardness(contrast.Estimate, 0, parts, slope)));
            tally.Add(2, resolved && Agrees(JudgedContrast.From(contrast.Estimate, parts, s_rule.WithRatio(Math.Exp(slope.Slope), Math.Exp(-slope.Slope)))));
        });
    }

    private static bool Agrees(JudgedContrast judged) => judged.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable;
}
