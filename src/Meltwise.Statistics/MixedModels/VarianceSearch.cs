using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>Climbs the likelihood in the variance components, none of them below zero.</summary>
/// <remarks><b>Computation.</b> Newton steps with the observed information, or the expected one where that is not positive definite;
/// a step that would pass zero stops there, and a component stays at zero while the likelihood falls away from it.
/// Near the top the convergence is quadratic. <b>Source.</b> [JennrichSampson1976].</remarks>
internal static class VarianceSearch
{
    /// <summary>The variances at the maximum; components with a given value in <paramref name="held"/> keep it.</summary>
    public static (double[] Variance, VarianceScore At, int Iterations) Maximise(MixedData data, bool reml, double[] start, double?[] held)
    {
        double[] v = (double[])start.Clone();
        for (int k = 0; k < v.Length; k++) v[k] = held[k] ?? v[k];
        VarianceScore at = VarianceScore.At(data, v, reml)
            ?? throw new InvalidOperationException("The starting variances of the mixed model give no positive definite covariance.");
        for (int iteration = 1; iteration <= 200; iteration++)
        {
            int[] free = [.. Enumerable.Range(0, v.Length).Where(k => held[k] is null && (v[k] > 0 || at.Score[k] > 0))];
            if (free.Length == 0) return (v, at, iteration);
            double[] step = Step(at, free);
            double gain = free.Select((k, i) => at.Score[k] * step[i]).Sum();
            (double[] next, bool moved) = Along(data, reml, v, free, step, at);
            double change = free.Max(k => Math.Abs(next[k] - v[k]) / (Math.Abs(v[k]) + 1e-8 * v[^1]));
            v = next;
            if (moved) at = VarianceScore.At(data, v, reml)!;
            if (!moved || change < 1e-13 || gain < 1e-22) return (v, at, iteration);
        }
        return (v, at, 200);
    }

    private static double[] Step(VarianceScore at, int[] free)
    {
        double[] score = [.. free.Select(k => at.Score[k])];
        foreach (double[,] information in (double[][,])[at.Observed, at.Expected, at.Average])
            if (CholeskyFactor.Of(Part(information, free)) is { } factor) return factor.Solve(score);
        return score;
    }

    private static (double[] Next, bool Moved) Along(MixedData data, bool reml, double[] v, int[] free, double[] step, VarianceScore at)
    {
        double fraction = 1;
        for (int halving = 0; halving < 40; halving++, fraction /= 2)
        {
            double[] next = (double[])v.Clone();
            for (int i = 0; i < free.Length; i++)
            {
                double floor = free[i] == v.Length - 1 ? 0.05 * v[^1] : 0;
                next[free[i]] = Math.Max(floor, v[free[i]] + fraction * step[i]);
            }
            if (VarianceScore.LogLikelihoodAt(data, next, reml) is { } value && value >= at.LogLikelihood - 1e-12 * Math.Abs(at.LogLikelihood))
                return (next, true);
        }
        return (v, false);
    }

    internal static double[,] Part(double[,] matrix, int[] kept)
    {
        double[,] part = new double[kept.Length, kept.Length];
        for (int i = 0; i < kept.Length; i++)
            for (int j = 0; j < kept.Length; j++) part[i, j] = matrix[kept[i], kept[j]];
        return part;
    }
}
