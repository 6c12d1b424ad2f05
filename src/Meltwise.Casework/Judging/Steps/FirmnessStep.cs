using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>Step 8: the outcome under other reasonable choices, one variant for each kind of doubt.</summary>
internal sealed class FirmnessStep(LotData lots, AsTestedStep asTested, ScatterStep scatter, ResolvedRule rule)
{
    private const int FewestForRobust = 5, FewestCouponsLeft = 2;
    private const double OtherSessionSd = 0.3;

    private readonly Dictionary<string, Outcome> _outcomes = [];

    /// <summary>Coupons without which the outcome would be another.</summary>
    public Dictionary<string, Outcome> Flips { get; } = [];

    /// <summary>Change of the comparison without each coupon, in the order of the lots.</summary>
    public static double?[] ChangeWithoutEach(LotData lots, LotContrast contrast)
    {
        double?[] change = new double?[lots.Coupons.Count];
        for (int i = 0; i < change.Length; i++)
            if (lots.Count(lots.Candidate[i]) > FewestCouponsLeft && lots.Without(i) is var rest && rest.Contrast(rest.Z) is { } without) change[i] = without.Estimate - contrast.Estimate;
        return change;
    }

    /// <summary>Variants of question A.</summary>
    /// <param name="main">The outcome itself.</param>
    /// <param name="withExcluded">The outcome with exclusions undone; null when there are none.</param>
    /// <param name="slope">The slope of a margin in hardness.</param>
    public Variants AsTested(Outcome main, Outcome? withExcluded, SlopeOnHardness? slope)
    {
        LeaveOneOut(main, slope);
        if (withExcluded is { } undone) _outcomes["exclusionsUndone"] = undone;
        LotContrast contrast = asTested.Contrast;
        bool plainRatio = rule.Kind == MarginKind.Ratio && !lots.SeveralHeats, oneLoad = lots.Loads.Count == 1;
        if (plainRatio) _outcomes["arithmeticMeans"] = ArithmeticRatio(lots.Y, rule.Low, rule.High, rule.HigherIsBetter);
        if (contrast.Kind == LotContrastKind.OwnVariances && rule.Kind != MarginKind.Hardness) _outcomes["pooledVariance"] = Pooled();
        if (plainRatio && oneLoad && Math.Min(lots.Count(true), lots.Count(false)) >= FewestForRobust) Robust();
        if (plainRatio && scatter.EstimatedExponent is { } k && Math.Abs(1 - k) >= 0.02) _outcomes["powerScale"] = PowerScale(1 - k);
        if (plainRatio && scatter.MayLend) OtherScatter(main);
        if (!oneLoad && !lots.SeveralHeats && lots.ContrastWithoutLoads(Analysed) is { HasScatter: true } ignored) _outcomes["loadsIgnored"] = Outcome(ignored, slope);
        if (slope is { } s) _outcomes["marginAsNumber"] = asTested.Judge(rule.WithRatio(Math.Exp(rule.Hrc * s.Slope), Math.Exp(-rule.Hrc * s.Slope))).Outcome;
        return Count(main);
    }

    /// <summary>Variants of question B.</summary>
    public Variants EqualHardness(Outcome main, EqualHardnessStep step)
    {
        LotContrast contrast = asTested.Contrast;
        Outcome With(SlopeOnHardness slope, IReadOnlyList<VariancePart> parts) => step.JudgeByMargin(rule, slope, parts, contrast.Estimate).Outcome;
        SlopeOnHardness used = step.Slope!.Value;
        foreach ((string variant, SlopeOnHardness other) in OtherSlopes(step)) _outcomes[variant] = With(other, asTested.Parts);
        if (contrast.Kind == LotContrastKind.OwnVariances)
        {
            double df = contrast.Scatter.Sum(s => s.DegreesOfFreedom), variance = contrast.Scatter.Sum(s => s.DegreesOfFreedom * s.Variance) / df;
            _outcomes["pooledVariance"] = With(used, [new("pooled", variance * contrast.TotalUnit, df)]);
        }
        if (rule.Kind == MarginKind.Hardness) _outcomes["marginAsNumber"] = step.Judge(rule.WithRatio(Math.Exp(rule.Hrc * used.Slope), Math.Exp(-rule.Hrc * used.Slope)), used, asTested.Parts, contrast.Estimate).Outcome;
        return Count(main);
    }

    /// <summary>The slopes that another choice would give. Doubts about the trend between heats do not touch a ladder that the rule names.</summary>
    private IEnumerable<(string Variant, SlopeOnHardness Slope)> OtherSlopes(EqualHardnessStep step)
    {
        if (step.NamesLadder)
        {
            if (step.UsableTrend is { } between) yield return ("betweenHeatsSlope", step.SlopeOf(between));
            yield break;
        }
        HeatTrend trend = step.Trend!;
        if (step.IsBent) yield return ("straightTrend", EqualHardnessStep.StraightSlopeOf(trend));
        yield return ("slopeUncorrected", step.SlopeOf(step.Uncorrected(step.Sources)!));
        if (trend.Sources > 1 && step.Fit(1, rule.SessionSd) is { } pooled) yield return ("sourcesIgnoredInTrend", step.SlopeOf(pooled));
        if (step.Fit(trend.Sources, OtherSessionSd) is { Attenuation: >= 0.5 } noisy) yield return ("sessionSd0.3", step.SlopeOf(noisy));
        if (step.Ladder is { IsLadder: true } ladder) yield return ("ladderSlope", new(ladder.Slope, ladder.StandardError, ladder.DegreesOfFreedom));
    }

    private double[] Analysed => rule.IsLog && rule.Kind == MarginKind.Absolute ? lots.Y : lots.Z;

    private (double Low, double High) Limits => rule.Kind == MarginKind.Absolute ? (-rule.PlusMinus, rule.PlusMinus) : rule.Limits;

    private Variants Count(Outcome main) => new(_outcomes.Values.Count(o => o == main), _outcomes.Count, _outcomes);

    private Outcome Outcome(LotContrast contrast, SlopeOnHardness? slope)
    {
        VariancePart[] parts = [.. contrast.Scatter.Select(s => s.Part)];
        if (slope is { } s) return JudgedContrast.From(contrast.Estimate, parts, rule).AgainstHardness(contrast.Estimate, 0, parts, s).Outcome;
        return JudgedContrast.Against(Limits, contrast.Own, parts, rule).Outcome;
    }

    private void LeaveOneOut(Outcome main, SlopeOnHardness? slope)
    {
        for (int i = 0; i < lots.Coupons.Count; i++)
        {
            LotData rest = lots.Without(i);
            if (rest.Heats.Count != lots.Heats.Count) continue;
            LotContrast? contrast = rest.Contrast(rule.IsLog && rule.Kind == MarginKind.Absolute ? rest.Y : rest.Z);
            if (contrast is not { HasScatter: true }) continue;
            Outcome outcome = Outcome(contrast, slope);
            if (outcome != main) Flips[lots.NameOf(i)] = outcome;
        }
        _outcomes["anyOneCouponLeftOut"] = Flips.Count > 0 ? Flips.First().Value : main;
    }

    private Outcome Pooled()
    {
        LotContrast contrast = lots.Contrast(Analysed)!;
        return JudgedContrast.Against(Limits, contrast.Pooled, [], rule).Outcome;
    }

    private void Robust()
    {
        double[] c = lots.Of(lots.Z, true), r = lots.Of(lots.Z, false);
        ContrastEstimate trimmed = TrimmedMeans.Fit(c, r);
        if (trimmed.StandardError > 0) _outcomes["trimmedMeans"] = JudgedContrast.Against(rule.Limits, trimmed, [], rule).Outcome;
        if (StudentizedPermutation.Fit(c, r) is { } permutation)
            _outcomes["permutation"] = DecisionTable.Decide(permutation.Interval(1 - rule.Alpha), permutation.Interval(1 - 2 * rule.Alpha), rule.Limits, rule.HigherIsBetter);
    }

    /// <summary>Ratio of arithmetic means by the contrasts y_C − ρ·y_R at ρ = L, 1 and U: no interval is needed for the table.</summary>
    private Outcome ArithmeticRatio(double[] y, double low, double high, bool? higherIsBetter)
    {
        ContrastEstimate At(double ratio)
        {
            double[] scaled = [.. y.Select((v, i) => lots.Candidate[i] ? v : ratio * v)];
            return lots.Contrast(scaled)!.Own;
        }
        ContrastEstimate atLow = At(low), atOne = At(1), atHigh = At(high);
        double alpha = rule.Alpha, aboveLow = atLow.PNotAbove(0), aboveHigh = atHigh.PNotAbove(0);
        bool within = aboveLow < alpha && 1 - aboveHigh < alpha, excludes = atOne.PDifference < alpha;
        return DecisionTable.Decide(within, excludes, aboveHigh < alpha / 2, 1 - aboveLow < alpha / 2, higherIsBetter);
    }

    /// <summary>The arithmetic ratio of y^(1−k), on which the scatter would not depend on the mean.</summary>
    public Outcome PowerScale(double power)
    {
        double[] scaled = [.. lots.Y.Select(v => Math.Pow(v, power))];
        double low = Math.Pow(rule.Low, power), high = Math.Pow(rule.High, power);
        return power > 0 ? ArithmeticRatio(scaled, low, high, rule.HigherIsBetter) : ArithmeticRatio(scaled, high, low, !rule.HigherIsBetter);
    }

    private void OtherScatter(Outcome main)
    {
        if (rule.Rule.Scatter == ScatterChoice.Lent)
            _outcomes["ownScatter"] = Outcome(asTested.Contrast, null);
        else if (asTested.Contrast.Kind == LotContrastKind.OwnVariances)
            _outcomes["lentScatter"] = scatter.Lend(asTested.Contrast).Parts is { } parts ? JudgedContrast.From(asTested.Contrast.Estimate, parts, rule).Outcome : main;
    }
}
