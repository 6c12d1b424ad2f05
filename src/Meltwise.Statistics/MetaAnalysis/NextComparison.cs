using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.MetaAnalysis;

/// <summary>Where the true effect of the next comparison lies, the spread τ² between comparisons being estimated and not known.</summary>
/// <remarks>
/// <para><b>Formula.</b> At the true τ² the weighted sum of squares Q(τ²) is χ² with k − 1 degrees of freedom and the weighted mean μ(τ²) is normal with variance 1/W(τ²), independent of Q.
/// So H(τ²) = P(χ² ≥ Q(τ²)) is a confidence distribution of τ², with its mass at 0, and the next effect is the mixture over H of normals with mean μ(τ²) and variance τ² + 1/W(τ²);
/// the limits are quantiles of that mixture.</para>
/// <para><b>Computation.</b> H on a geometric grid of τ² up to where it reaches 0.9999; quantiles by bisection.</para>
/// <para><b>Limits.</b> k of 3 or more. With 3 comparisons τ² may be very large for all one knows, and the interval says so by its width.
/// Against μ ± t(k − 1)·√(τ² + SE²), which covers 84 to 90 % for 5 to 20 comparisons with a spread like their sampling errors, see bench/results/calibrate-pairs.md.</para>
/// <para><b>Source.</b> [NagashimaNomaFurukawa2019] for the confidence distribution of τ² in a prediction interval; Q(τ²) as [Viechtbauer2007].</para>
/// </remarks>
internal sealed class NextComparison
{
    private const int Grid = 80;
    private const double Reached = 1e-4;
    private readonly double[] _share = new double[Grid + 1], _mean = new double[Grid + 1], _sd = new double[Grid + 1];

    private NextComparison() { }

    /// <summary>The mixture.</summary>
    /// <param name="comparisons">k.</param>
    /// <param name="at">Mean, Σ of weights and Q at a τ².</param>
    /// <param name="typicalVariance">A sampling variance, which sets the unit of the grid.</param>
    public static NextComparison Of(int comparisons, Func<double, (double Mean, double Weight, double Q)> at, double typicalVariance)
    {
        double last = ChiSquared.Quantile(Reached, comparisons - 1), high = typicalVariance;
        while (at(high).Q > last) high *= 4;
        double edge = 1e-3 * typicalVariance, ratio = Math.Pow(high / edge, 1.0 / (Grid - 1)), below = Reach(at(0).Q);
        NextComparison next = new();
        next.Put(0, below, 0, at(0));
        for (int i = 1; i <= Grid; i++)
        {
            // The share between two edges sits at their geometric middle; the first cell starts at 0.
            double middle = i == 1 ? 0.5 * edge : edge / Math.Sqrt(ratio), reached = i == Grid ? 1 : Reach(at(edge).Q);
            next.Put(i, reached - below, middle, at(middle));
            (below, edge) = (reached, edge * ratio);
        }
        return next;

        double Reach(double q) => ChiSquared.UpperTail(q, comparisons - 1);
    }

    /// <summary>Two-sided limits.</summary>
    public (double Lower, double Upper) Interval(double level) => (Quantile(0.5 - level / 2), Quantile(0.5 + level / 2));

    private void Put(int i, double share, double tau2, (double Mean, double Weight, double Q) at) =>
        (_share[i], _mean[i], _sd[i]) = (share, at.Mean, Math.Sqrt(tau2 + 1 / at.Weight));

    private double Quantile(double p)
    {
        double reach = 40 * _sd.Max(), low = _mean.Min() - reach, high = _mean.Max() + reach;
        for (int i = 0; i < 200 && high - low > 1e-12 * reach; i++)
        {
            double middle = 0.5 * (low + high), cdf = 0;
            for (int k = 0; k < _share.Length; k++) cdf += _share[k] * Normal.Cdf((middle - _mean[k]) / _sd[k]);
            if (cdf < p) low = middle; else high = middle;
        }
        return 0.5 * (low + high);
    }
}
