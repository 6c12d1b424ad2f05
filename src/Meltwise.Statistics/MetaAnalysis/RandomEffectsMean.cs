using System.Globalization;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.MetaAnalysis;

/// <summary>One effect from many independent comparisons whose true effects scatter: mean, spread, and what the next comparison may show.</summary>
/// <remarks>
/// <para><b>Model.</b> y_i ~ N(θ_i, v_i) with v_i known, θ_i ~ N(μ, τ²).</para>
/// <para><b>Formula.</b> Weighted mean with w = 1/(v + τ²). Hartung and Knapp's variance q/Σw with q = Σw(y - μ)²/(k - 1), not below 1/Σw
/// unless asked; t with k - 1. Prediction interval μ ± t(k - 1)·√(τ² + SE²). Interval of τ² where Q(τ²) meets its χ² quantiles.</para>
/// <para><b>Limits.</b> k ≥ 2; sampling variances are taken as known and effects as independent. With fewer than 5 comparisons τ² is hardly known, and a note says so.</para>
/// <para><b>Source.</b> [HartungKnapp2001]; [HigginsThompsonSpiegelhalter2009]; [Viechtbauer2007]; truncation [RoverKnappFriede2015].</para>
/// </remarks>
public static class RandomEffectsMean
{
    /// <summary>Combines the effects.</summary>
    /// <param name="effects">Estimated effects, such as ln(C/R).</param>
    /// <param name="variances">Their sampling variances, above 0.</param>
    /// <param name="estimator">How τ² is estimated.</param>
    /// <param name="level">Coverage of the intervals.</param>
    /// <param name="truncated">Keeps the Hartung-Knapp factor at 1 or above; the default.</param>
    public static RandomEffectsResult Fit(IReadOnlyList<double> effects, IReadOnlyList<double> variances,
        HeterogeneityEstimator estimator = HeterogeneityEstimator.Restricted, double level = 0.95, bool truncated = true)
    {
        ArgumentNullException.ThrowIfNull(effects);
        ArgumentNullException.ThrowIfNull(variances);
        if (effects.Count < 2) throw new InsufficientDataException($"A spread between comparisons needs at least 2 comparisons; got {effects.Count}.");
        if (variances.Count != effects.Count || variances.Any(x => !(x > 0)))
            throw new ArgumentException($"Each of the {effects.Count} effects needs a sampling variance above 0.", nameof(variances));

        double[] y = [.. effects], v = [.. variances];
        int k = y.Length;
        double tau2 = Heterogeneity.Estimate(y, v, estimator);
        (double mean, double weight) = Heterogeneity.Mean(y, v, tau2);
        double factor = Heterogeneity.Q(y, v, tau2) / (k - 1);
        double error = Math.Sqrt((truncated ? Math.Max(1, factor) : factor) / weight);
        double q = Heterogeneity.Q(y, v, 0), sumW = v.Sum(x => 1 / x), sumW2 = v.Sum(x => 1 / (x * x));
        double typical = (k - 1) * sumW / (sumW * sumW - sumW2);
        double alpha = 1 - level;
        return new(k, mean, error, 1 / Math.Sqrt(weight), tau2, factor, q, ChiSquared.UpperTail(q, k - 1), tau2 / (typical + tau2),
            (Heterogeneity.WhereQIs(y, v, ChiSquared.Quantile(1 - alpha / 2, k - 1)), Heterogeneity.WhereQIs(y, v, ChiSquared.Quantile(alpha / 2, k - 1))),
            level, estimator, truncated);
    }

    /// <summary>The fit without each comparison in turn; needs at least 3.</summary>
    public static IReadOnlyList<RandomEffectsResult> LeaveOneOut(IReadOnlyList<double> effects, IReadOnlyList<double> variances,
        HeterogeneityEstimator estimator = HeterogeneityEstimator.Restricted, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(effects);
        if (effects.Count < 3) throw new InsufficientDataException($"Leaving one comparison out needs at least 3; got {effects.Count}.");
        return [.. Enumerable.Range(0, effects.Count).Select(i =>
            Fit([.. effects.Where((_, j) => j != i)], [.. variances.Where((_, j) => j != i)], estimator, level))];
    }
}

/// <summary>A combined effect.</summary>
/// <param name="Comparisons">Number k of comparisons.</param>
/// <param name="Mean">Mean effect μ.</param>
/// <param name="StandardError">Hartung-Knapp standard error.</param>
/// <param name="NormalStandardError">1/√Σw, which takes τ² as known.</param>
/// <param name="TauSquared">Variance between comparisons.</param>
/// <param name="HartungKnappFactor">q before truncation.</param>
/// <param name="Q">Cochran's Q.</param>
/// <param name="QPValue">p value of "no spread between comparisons".</param>
/// <param name="ISquared">Share of the scatter that is not sampling error, 0 to 1.</param>
/// <param name="TauSquaredInterval">Interval of τ² by the profile of Q.</param>
/// <param name="Level">Coverage of the intervals.</param>
/// <param name="Estimator">Estimator of τ².</param>
/// <param name="Truncated">True where the Hartung-Knapp factor was kept at 1 or above.</param>
public sealed record RandomEffectsResult(int Comparisons, double Mean, double StandardError, double NormalStandardError, double TauSquared,
    double HartungKnappFactor, double Q, double QPValue, double ISquared, (double Lower, double Upper) TauSquaredInterval,
    double Level, HeterogeneityEstimator Estimator, bool Truncated)
{
    /// <summary>Degrees of freedom k - 1.</summary>
    public int DegreesOfFreedom => Comparisons - 1;

    /// <summary>Two-sided p value of "mean effect 0".</summary>
    public double P => StudentT.TwoSided(Mean / StandardError, DegreesOfFreedom);

    /// <summary>Interval of the mean effect.</summary>
    public (double Lower, double Upper) Interval => Around(StandardError);

    /// <summary>Interval in which the true effect of one more comparison is expected.</summary>
    public (double Lower, double Upper) PredictionInterval => Around(Math.Sqrt(TauSquared + StandardError * StandardError));

    /// <summary>What a reader must know before using the numbers.</summary>
    public IReadOnlyList<string> Notes => Comparisons < 5
        ? [$"Only {Comparisons} comparisons: the spread between them is hardly known, and the prediction interval is a rough one."]
        : ["Sampling variances are taken as known and the comparisons as independent.",
           "Where the spread is no larger than the sampling errors, the interval for the next comparison covers less than it says: 84 to 94 % instead of 95 % by simulation."];

    /// <summary>The result as a sentence.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"mean {Mean:G4} ({Level:P0} interval {Interval.Lower:G4} to {Interval.Upper:G4}) over {Comparisons} comparisons, spread τ {Math.Sqrt(TauSquared):G3}, next comparison {PredictionInterval.Lower:G4} to {PredictionInterval.Upper:G4}");

    private (double, double) Around(double error)
    {
        double half = StudentT.Quantile(0.5 + Level / 2, DegreesOfFreedom) * error;
        return (Mean - half, Mean + half);
    }
}
