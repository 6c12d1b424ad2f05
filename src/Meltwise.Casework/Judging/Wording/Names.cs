namespace Meltwise.Casework.Judging;

/// <summary>How the two sides, the property and the margin are called in a sentence.</summary>
/// <param name="Candidate">The candidate's heats, or its source for the estimand on sources.</param>
/// <param name="Reference">The reference's heats, or its source.</param>
/// <param name="Property">The property.</param>
/// <param name="Condition">Geometry, orientation and temperature.</param>
/// <param name="Margin">The margin with its unit.</param>
internal sealed record Names(string Candidate, string Reference, string Property, string Condition, string Margin)
{
    public static Names Of(Verdict verdict, ResolvedRule rule)
    {
        bool sources = rule.Rule.Estimand == Domain.Estimand.Sources && verdict.Sources is { CandidateSource: not null };
        return new(
            sources ? $"source {verdict.Sources!.CandidateSource}" : List(verdict.Lots[1].Heat), sources ? $"source {verdict.Sources!.ReferenceSource}" : List(verdict.Lots[0].Heat),
            rule.Property.Name, verdict.Stratum.Condition, MarginOf(rule));
    }

    /// <summary>The margin as a person says it.</summary>
    private static string MarginOf(ResolvedRule rule) => rule.Kind switch
    {
        MarginKind.Absolute => $"±{Short(rule.PlusMinus)} {rule.Unit}",
        MarginKind.Hardness => rule.IsLog && rule.Low > 0
            ? $"what {Short(rule.Hrc)} HRC is worth (about {Figures.Fixed(rule.Low, 2)} to {Figures.Fixed(rule.High, 2)})"
            : $"what {Short(rule.Hrc)} HRC is worth",
        _ => $"{Limit(rule.Low)} to {Limit(rule.High)}",
    };

    /// <summary>The candidate at the head of a sentence.</summary>
    public string CandidateFirst => Candidate.StartsWith("source ", StringComparison.Ordinal) ? $"S{Candidate[1..]}" : Candidate;

    /// <summary>One name, or <c>A, B and C</c>.</summary>
    public static string List(IReadOnlyList<string> names) => names.Count <= 1 ? string.Concat(names) : $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}";

    private static string Limit(double ratio) => Figures.Fixed(ratio, Math.Abs(ratio - Math.Round(ratio, 2)) < 5e-4 || Math.Abs(ratio - 1) > 0.02 ? 2 : 4);

    private static string Short(double value) => Math.Round(value, 2).ToString("0.##", System.Globalization.CultureInfo.InvariantCulture);
}

/// <summary>An estimate with its two intervals, in words: a ratio, or a difference where the margin is one.</summary>
internal sealed record Size(double Estimate, double NarrowLower, double NarrowUpper, double NarrowLevel, double WideLower, double WideUpper, double WideLevel, string? Unit)
{
    public static Size Of(EstimandResult result, bool asDifference) => asDifference && result is { Difference: { } wide, DifferenceForMargin: { } narrow }
        ? new(wide.Estimate, narrow.Lower, narrow.Upper, narrow.Level, wide.Lower, wide.Upper, wide.Level, wide.Unit)
        : result is { Ratio: { } ratio, RatioForMargin: { } margin }
            ? new(ratio.Estimate, margin.Lower, margin.Upper, margin.Level, ratio.Lower, ratio.Upper, ratio.Level, null)
            : throw new ArgumentException("Only a judged estimand has a size.", nameof(result));

    private string UnitText => Unit is null ? "" : $" {Unit}";

    /// <summary><c>0.92; 90 % range 0.84 to 1.01</c>.</summary>
    public string Narrow => Range(NarrowLower, NarrowUpper, NarrowLevel);

    /// <summary><c>0.92; 95 % range 0.82 to 1.04</c>.</summary>
    public string Wide => Range(WideLower, WideUpper, WideLevel);

    /// <summary>Only the wide range, <c>0.82 to 1.04</c>.</summary>
    public string WideRange
    {
        get
        {
            (_, string lower, string upper) = Figures.Interval(Estimate, WideLower, WideUpper);
            return $"{lower} to {upper}{UnitText}";
        }
    }

    /// <summary><c>8 %</c>, or <c>1.2 J</c>.</summary>
    public string Amount => Unit is null ? Figures.Percent(Estimate) : $"{Figures.Interval(Math.Abs(Estimate), WideLower, WideUpper).Estimate}{UnitText}";

    /// <summary>Higher or lower.</summary>
    public string Direction => Estimate >= (Unit is null ? 1 : 0) ? "higher" : "lower";

    /// <summary>What is estimated.</summary>
    public string Noun => Unit is null ? "ratio" : "difference";

    /// <summary>A level in percent: <c>95 %</c>, <c>97.5 %</c>.</summary>
    public static string Level(double level) => $"{(level * 100).ToString("0.#", System.Globalization.CultureInfo.InvariantCulture)} %";

    private string Range(double lower, double upper, double level)
    {
        (string estimate, string low, string high) = Figures.Interval(Estimate, lower, upper);
        return $"{estimate}{UnitText}; {Level(level)} range {low} to {high}{UnitText}";
    }
}
