using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>What is said of a comparison at equal hardness: where its slope comes from, the shape of the trend, and what to be careful of.</summary>
internal static class EqualHardnessNotes
{
    private const double WorthAWord = 0.03, Curved = 3;

    /// <summary>The notes.</summary>
    /// <param name="step">The step that judged.</param>
    /// <param name="trend">The trend between heats; null where the history has no usable one.</param>
    /// <param name="rule">The rule.</param>
    public static IEnumerable<string> Of(EqualHardnessStep step, HeatTrend? trend, ResolvedRule rule)
    {
        yield return step.NamesLadder
            ? $"Slope {step.Kind}, named by the rule, from the temper ladders of {step.Ladder!.Heats} heats of the history, heat fixed; not corrected for error in hardness (reliability of the levels {Figures.Fixed(step.Ladder.Reliability(step.HardnessVariance), 2)})."
            : $"Slope {step.Kind}, from {trend!.Heats} heats of the history, by restricted maximum likelihood; error in hardness corrected with reliability {Figures.Fixed(trend.Attenuation, 2)} (Fuller 1987).";
        yield return "If the source causes the hardness difference, the comparison at equal hardness takes away part of the difference between the sources: read it beside the ratio as tested.";
        if (step.NamesLadder && rule.Rule.SessionSdHrc is null) yield return "The rule names no scatter of hardness between sessions: its standard deviation was taken as 0.";
        if (Math.Abs(step.HardnessDifference) > 1) yield return $"The lots differ by {Figures.Fixed(Math.Abs(step.HardnessDifference), 1)} HRC: above 1 HRC the adjustment leans heavily on the trend.";
        if (trend is null)
        {
            yield return "The history has no usable slope between heats to hold the ladder's against.";
            yield break;
        }
        if (trend.TreatmentVariance is not null) yield return "Heat × treatment is a variance of its own in the trend, beside the variance from heat to heat.";
        if (trend.Sources == 1 && step.Sources > 1) yield return "Too few heats for an intercept of each source: one intercept was used for all.";
        if (!step.NamesLadder)
            foreach (string note in step.IsBent ? Bent(step, trend) : Straight(step, trend, rule)) yield return note;
        if (step.Ladder is { } ladder)
            yield return $"Slope between treatments of {ladder.Heats} heats {Figures.Fixed(ladder.Slope, 3)} per HRC, between heats {Figures.Fixed(trend.Slope, 3)}; equal: {Figures.P(ladder.PEqual(trend))}. The slope {step.Kind} was used.";
    }

    /// <summary>That the trend was bent, and why.</summary>
    private static IEnumerable<string> Bent(EqualHardnessStep step, HeatTrend trend)
    {
        (double low, double high) = trend.MiddleThird;
        string why = BentTrend.IsFarOff(trend, step.MiddleHrc) ? $"the lots lie outside the middle third of the heats ({Figures.Fixed(low, 1)} to {Figures.Fixed(high, 1)} HRC)" : "the heats show a bend";
        yield return $"The trend was let bend{Seen(trend)}, because {why}: the slope is its tangent at {Figures.Fixed(step.MiddleHrc, 1)} HRC, {Figures.Fixed(step.Slope!.Value.Slope, 3)}; the straight line has {Figures.Fixed(trend.Slope, 3)}.";
    }

    /// <summary>By how much a bend that was not followed could mislead.</summary>
    private static IEnumerable<string> Straight(EqualHardnessStep step, HeatTrend trend, ResolvedRule rule)
    {
        if (trend.CurvatureT is { } t && Math.Abs(t) > Curved) yield return $"The trend is curved{Seen(trend)}: the straight line that was used may mislead away from its middle.";
        if (rule.IsLog && trend.LargestShiftByCurvature(step.MiddleHrc, step.HardnessDifference) is { } shift && shift > WorthAWord)
            yield return $"The lots lie {Figures.Fixed(Math.Abs(step.MiddleHrc - trend.Centre), 1)} HRC from the middle of the heats: were the trend bent as far as these heats allow, the ratio at equal hardness would move by up to {Figures.Fixed(100 * (Math.Exp(shift) - 1), 0)} %.";
    }

    private static string Seen(HeatTrend trend) => trend.CurvatureT is { } t ? $" (quadratic term, t = {Figures.Fixed(t, 1)})" : "";
}
