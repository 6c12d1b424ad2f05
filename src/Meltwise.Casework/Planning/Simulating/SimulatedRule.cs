using System.Collections.Concurrent;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Casework.Planning;

/// <summary>What is found of one property in one look.</summary>
/// <param name="Outcome">Its outcome.</param>
/// <param name="Answer">Its answer; open without an outcome.</param>
/// <param name="DiffersAmong">The largest number of properties among which its difference would still be shown after Bonferroni's correction, up to all of them: p below the error rate over that number; 0 where no difference is shown.</param>
/// <param name="Refused">Why there is no outcome; null when there is one.</param>
internal readonly record struct SimulatedFinding(Outcome Outcome, Answer Answer, int DiffersAmong, Reason? Refused = null)
{
    /// <summary>No outcome.</summary>
    public static SimulatedFinding None(Reason reason) => new(Outcome.NoVerdict, Answer.Open, 0, reason);
}

/// <summary>The verdict's decision table applied to simulated estimates at the error rate of one look.</summary>
/// <param name="plan">The request.</param>
/// <param name="alpha">Error rate of the look.</param>
/// <param name="family">Number of primary properties.</param>
internal sealed class SimulatedRule(PlanRequest plan, double alpha, int family)
{
    private static readonly ConcurrentDictionary<double, TQuantileCurve> s_curves = new();
    private static readonly TQuantileCurve s_resolved = new(0.975);

    private readonly TQuantileCurve _narrow = s_curves.GetOrAdd(1 - alpha, p => new(p)), _wide = s_curves.GetOrAdd(1 - alpha / 2, p => new(p));
    private readonly TQuantileCurve[] _among = [.. Enumerable.Range(2, Math.Max(0, family - 1)).Select(k => s_curves.GetOrAdd(1 - alpha / (2 * k), p => new(p)))];
    private readonly bool? _higher = plan.HigherIsBetter;

    /// <summary>Against limits that are plain numbers on the scale of the estimate.</summary>
    public SimulatedFinding Decide(in SimulatedEstimate e, double low, double high)
    {
        (double variance, double spread) = WithSlope(e, e.HardnessDifference);
        (double narrow, double wide) = HalfWidths(variance, spread);
        (double Lower, double Upper) inner = (e.Estimate - narrow, e.Estimate + narrow), outer = (e.Estimate - wide, e.Estimate + wide);
        Outcome outcome = DecisionTable.Decide(outer, inner, (low, high), _higher);
        return new(outcome, DecisionTable.AnswerTo(plan.Question, outcome, outer, inner, (low, high), _higher), DiffersAmong(e.Estimate, variance, spread));
    }

    /// <summary>Against a margin of so many HRC through the bench's slope b: θ + c|b| and c|b| − θ are tested each with its own variance.</summary>
    public SimulatedFinding DecideInHardness(in SimulatedEstimate e, double hrc)
    {
        double margin = hrc * Math.Abs(plan.Trend!.Slope), d = e.HardnessDifference;
        (double variance, double spread) = WithSlope(e, d);
        (double ofLower, double lowerSpread) = WithSlope(e, d + hrc);
        (double ofUpper, double upperSpread) = WithSlope(e, hrc - d);
        MarginTests tests = Tests(e.Estimate + margin, HalfWidths(ofLower, lowerSpread), margin - e.Estimate, HalfWidths(ofUpper, upperSpread));
        int differs = DiffersAmong(e.Estimate, variance, spread);
        (Outcome outcome, Answer answer) = DecisionTable.AgainstHardness(plan.Question, tests, differs > 0, _higher);
        return new(outcome, answer, differs);
    }

    /// <summary>Against a margin of so many HRC through the slope of the lots' own ladders: refused where its 95 % interval is not below 0.</summary>
    public SimulatedFinding DecideInHardness(in SimulatedLadder ladder, double hrc)
    {
        double b = -ladder.Slope, error = Math.Sqrt(ladder.Variance * ladder.SlopeUnit), nu = ladder.DegreesOfFreedom, d = ladder.HardnessDifference;
        if (!(ladder.Slope + s_resolved.At(nu) * error < 0)) return SimulatedFinding.None(Reason.MarginNotResolved);
        SimulatedEstimate e = ladder.Estimate, toLower = ladder.Holding(e.Estimate + hrc * b, d + hrc), toUpper = ladder.Holding(hrc * b - e.Estimate, hrc - d);
        MarginTests tests = Tests(toLower.Estimate, HalfWidths(toLower.Variance, toLower.Spread), toUpper.Estimate, HalfWidths(toUpper.Variance, toUpper.Spread));
        int differs = DiffersAmong(e.Estimate, e.Variance, e.Spread);
        (Outcome outcome, Answer answer) = DecisionTable.AgainstHardness(plan.Question, tests, differs > 0, _higher);
        return new(outcome, answer, differs);
    }

    private static MarginTests Tests(double lower, (double Narrow, double Wide) ofLower, double upper, (double Narrow, double Wide) ofUpper) =>
        new(lower > ofLower.Narrow, upper > ofUpper.Narrow, lower > ofLower.Wide, upper > ofUpper.Wide, lower < -ofLower.Wide, upper < -ofUpper.Wide);

    private int DiffersAmong(double estimate, double variance, double spread)
    {
        double error = Math.Sqrt(variance), nu = Math.Max(1, variance * variance / spread), size = Math.Abs(estimate);
        if (!(size > _wide.At(nu) * error)) return 0;
        int among = 1;
        foreach (TQuantileCurve curve in _among)
        {
            if (!(size > curve.At(nu) * error)) break;
            among++;
        }
        return among;
    }

    private (double Variance, double Spread) WithSlope(in SimulatedEstimate e, double times)
    {
        if (plan.Trend is not { } t) return (e.Variance, e.Spread);
        double part = times * times * t.SlopeStandardError * t.SlopeStandardError;
        return (e.Variance + part, e.Spread + part * part / t.SlopeDf);
    }

    private (double Narrow, double Wide) HalfWidths(double variance, double spread)
    {
        double error = Math.Sqrt(variance), nu = Math.Max(1, variance * variance / spread);
        return (_narrow.At(nu) * error, _wide.At(nu) * error);
    }
}
