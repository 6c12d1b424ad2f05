using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.MetaAnalysis;

/// <summary>Where the true effect of the next comparison lies, the spread τ² between comparisons being estimated and not known.</summary>
/// <remarks>
/// <para><b>Model.</b> y ~ N(μ, V + τ²I), next effect ~ N(μ, τ²); flat prior of μ, reference prior of τ², proportional to √tr(W²) with W = (V + τ²I)⁻¹.</para>
/// <para><b>Formula.</b> p(τ² | y) ∝ √tr(W²) · |W|^½ (1'W1)^−½ exp(−½Q(τ²)), Q the weighted sum of squares about μ(τ²). Given τ² the next effect is normal with mean μ(τ²) and variance τ² + 1/1'W1;
/// the limits are quantiles of that mixture. With sampling variances that are all alike and small they are ȳ ± t(k − 1)·s√(1 + 1/k).</para>
/// <para><b>Computation.</b> Trapezoidal rule in ln τ², outwards until the weights no longer count; quantiles by bisection. No random numbers.</para>
/// <para><b>Limits.</b> k of 3 or more. A spread of exactly 0 is held impossible: with 3 comparisons alike the interval is half as wide again as one that would allow it.
/// Used because it covers 95 % and more at every spread (bench/results/calibrate-pairs.md). What covers less there: μ ± t(k − 1)·√(τ² + SE²), 84 % and up, and the
/// mixture over the confidence distribution of τ² [NagashimaNomaFurukawa2019], whose mass at τ² = 0 is too large where the spread is like the sampling errors, 93 % and up.</para>
/// <para><b>Source.</b> [BodnarLinkElster2016]; [BodnarEtAl2017]; for equal variances [TiaoTan1965].</para>
/// </remarks>
internal sealed class NextComparison
{
    private const double Step = 0.25, Negligible = 22;
    private readonly List<(double LogWeight, double Mean, double Sd)> _normals = [];
    private readonly double _top, _total;

    /// <summary>The mixture.</summary>
    /// <param name="at">The comparisons at a τ².</param>
    /// <param name="typicalVariance">A sampling variance, from where the search for τ² starts.</param>
    public NextComparison(Func<double, WeightedEffects> at, double typicalVariance)
    {
        _top = double.NegativeInfinity;
        foreach (int way in new[] { 1, -1 })
        {
            double before = double.NegativeInfinity;
            for (int i = way == 1 ? 0 : 1; ; i++)
            {
                double tau2 = typicalVariance * Math.Exp(way * i * Step);
                WeightedEffects e = at(tau2);
                double log = Math.Log(tau2) + 0.5 * (Math.Log(e.SquaredWeights) + e.LogDeterminant - Math.Log(e.Weight) - e.Q);
                _normals.Add((log, e.Mean, Math.Sqrt(tau2 + 1 / e.Weight)));
                _top = Math.Max(_top, log);
                if (log < before && log < _top - Negligible) break;
                before = log;
            }
        }
        _normals.RemoveAll(n => n.LogWeight < _top - Negligible);
        _total = _normals.Sum(n => Math.Exp(n.LogWeight - _top));
    }

    /// <summary>Two-sided limits.</summary>
    public (double Lower, double Upper) Interval(double level) => (Quantile(0.5 - level / 2), Quantile(0.5 + level / 2));

    private double Quantile(double p)
    {
        double reach = 40 * _normals.Max(n => n.Sd), low = _normals.Min(n => n.Mean) - reach, high = _normals.Max(n => n.Mean) + reach;
        for (int i = 0; i < 200 && high - low > 1e-14 * reach; i++)
        {
            double middle = 0.5 * (low + high), below = 0;
            foreach ((double log, double mean, double sd) in _normals) below += Math.Exp(log - _top) * Normal.Cdf((middle - mean) / sd);
            if (below < p * _total) low = middle; else high = middle;
        }
        return 0.5 * (low + high);
    }
}

/// <summary>Comparisons weighted by W = (V + τ²I)⁻¹.</summary>
/// <param name="Mean">μ = 1'Wy/1'W1.</param>
/// <param name="Weight">1'W1.</param>
/// <param name="Q">(y − μ)'W(y − μ).</param>
/// <param name="Score">y'PPy − tr P, the slope in τ² of twice the (restricted) log-likelihood.</param>
/// <param name="LogDeterminant">ln |W|.</param>
/// <param name="SquaredWeights">tr W².</param>
internal readonly record struct WeightedEffects(double Mean, double Weight, double Q, double Score, double LogDeterminant, double SquaredWeights);
