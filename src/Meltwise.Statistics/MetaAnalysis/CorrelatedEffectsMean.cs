using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MetaAnalysis;

/// <summary>Effects of several comparisons that may share a lot: mean, spread, and where the next comparison is expected.</summary>
/// <remarks>
/// <para><b>Model.</b> y ~ N(μ, V + τ²I), V known with the shared lot's variance off its diagonal. τ² by restricted maximum likelihood, or by maximum likelihood about a mean fixed at 0 where the effects have no common direction.</para>
/// <para><b>Formula.</b> μ = 1'Wy/1'W1 with W = (V + τ²I)⁻¹; SE² = max(1, q)/1'W1 with q = (y − μ)'W(y − μ)/(k − 1) (Hartung and Knapp); t with k − 1. The next comparison by <see cref="NextComparison"/>, which counts that τ² itself is hardly known and never 0.</para>
/// <para><b>Limits.</b> k of 3 or more; V is taken as known. Without shared lots this is <see cref="RandomEffectsMean"/>.</para>
/// <para><b>Source.</b> [HartungKnapp2001]; [RoverKnappFriede2015] for the factor not below 1; restricted likelihood as [PattersonThompson1971].</para>
/// </remarks>
/// <param name="Comparisons">k.</param>
/// <param name="Mean">μ; 0 when it was fixed.</param>
/// <param name="StandardError">Its standard error; 0 when it was fixed.</param>
/// <param name="TauSquared">τ².</param>
public sealed record CorrelatedEffectsMean(int Comparisons, double Mean, double StandardError, double TauSquared)
{
    /// <summary>Interval of the mean.</summary>
    public (double Lower, double Upper) Interval(double level) => Around(StandardError, level);

    private NextComparison? _next;

    /// <summary>Interval in which the true effect of one more comparison is expected, the estimate of τ² not taken as known.</summary>
    public (double Lower, double Upper) Prediction(double level) => _next is { } next ? next.Interval(level) : PlainPrediction(level);

    /// <summary>The same by μ ± t(k − 1)·√(τ² + SE²), which takes the estimate of τ² as known and covers too little where it is small.</summary>
    public (double Lower, double Upper) PlainPrediction(double level) => Around(Math.Sqrt(TauSquared + StandardError * StandardError), level);

    /// <summary>Fits the effects.</summary>
    /// <param name="effects">Estimated effects, at least 3.</param>
    /// <param name="covariance">V, symmetric, k by k.</param>
    /// <param name="aboutZero">Fixes the mean at 0.</param>
    public static CorrelatedEffectsMean Fit(IReadOnlyList<double> effects, double[,] covariance, bool aboutZero = false)
    {
        int k = effects.Count;
        if (k < 3) throw new InsufficientDataException($"A spread between comparisons needs at least 3 comparisons; got {k}.");
        double spread = effects.Max() - effects.Min() + Math.Abs(effects.Max()) + Math.Abs(effects.Min());
        double tau2 = Score(effects, covariance, 0, aboutZero) <= 0 ? 0 : Root(effects, covariance, spread * spread + 1e-12, aboutZero);
        if (aboutZero) return new(k, 0, 0, tau2);
        WeightedEffects e = At(effects, covariance, tau2, false);
        return new(k, e.Mean, Math.Sqrt(Math.Max(1, e.Q / (k - 1)) / e.Weight), tau2)
        {
            _next = new(t => At(effects, covariance, t, false), Enumerable.Range(0, k).Average(i => covariance[i, i])),
        };
    }

    private (double, double) Around(double error, double level)
    {
        double half = StudentT.Quantile(0.5 + level / 2, Comparisons - 1) * error;
        return (Mean - half, Mean + half);
    }

    /// <summary>Bisection: the score falls through 0 once between 0 and a spread no effect exceeds.</summary>
    private static double Root(IReadOnlyList<double> effects, double[,] covariance, double high, bool aboutZero)
    {
        double low = 0;
        for (int i = 0; i < 200 && high - low > 1e-15 * high; i++)
        {
            double middle = 0.5 * (low + high);
            if (Score(effects, covariance, middle, aboutZero) > 0) low = middle; else high = middle;
        }
        return 0.5 * (low + high);
    }

    private static double Score(IReadOnlyList<double> effects, double[,] covariance, double tau2, bool aboutZero) => At(effects, covariance, tau2, aboutZero).Score;

    private static WeightedEffects At(IReadOnlyList<double> effects, double[,] covariance, double tau2, bool aboutZero)
    {
        int k = effects.Count;
        double[,] v = (double[,])covariance.Clone();
        for (int i = 0; i < k; i++) v[i, i] += tau2;
        CholeskyFactor factor = CholeskyFactor.Of(v) ?? throw new ArgumentException("The covariance of the effects is not positive definite.", nameof(covariance));
        double[,] w = factor.Inverse();
        double[] rows = new double[k], pulled = new double[k];
        double weight = 0, sum = 0, trace = 0, squares = 0, q = 0;
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j < k; j++) (rows[i], squares) = (rows[i] + w[i, j], squares + w[i, j] * w[i, j]);
            (weight, sum, trace) = (weight + rows[i], sum + rows[i] * effects[i], trace + w[i, i]);
        }
        double mean = aboutZero ? 0 : sum / weight;
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j < k; j++) pulled[i] += w[i, j] * (effects[j] - mean);
            q += pulled[i] * (effects[i] - mean);
        }
        double lost = aboutZero ? 0 : rows.Sum(r => r * r) / weight;
        return new(mean, weight, q, pulled.Sum(p => p * p) - trace + lost, -factor.LogDeterminant, squares);
    }
}
