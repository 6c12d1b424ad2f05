using Meltwise.Statistics.MetaAnalysis;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Calibrations;

/// <summary>Coverage of the mean of all pairs and of the interval for the next pair, also where all pairs share a reference lot.</summary>
internal static class PairsRates
{
    public static RateTable Table { get; } = new()
    {
        Name = "calibrate-pairs",
        Title = "All pairs together: the mean and the next pair",
        What = "k pairs with sampling standard errors from 0.04 to 0.10 and true spread τ. Where they share a reference lot, a third of every variance is that lot's. The mean by Hartung and Knapp with the factor kept at 1 or above; \"plain\" is the interval for the next pair by t(k - 1)·√(τ² + SE²), which takes the estimated spread as known.",
        Columns = [RateColumn.Covers("mean"), RateColumn.Covers("next pair"), RateColumn.Tells("next pair, plain")],
        Designs = [.. from shared in (bool[])[false, true] from k in (int[])[3, 5, 10, 20] from tau in (double[])[0, 0.04, 0.10, 0.20] select Of(k, tau, shared)],
        Replicates = 10_000,
        Reduced = 100,
        Seed = 305,
    };

    private static Design Of(int k, double tau, bool shared) =>
        new(FormattableString.Invariant($"{k} pairs, τ {tau:F2}{(shared ? ", one reference lot" : "")}"), (ref RandomStream random, Tally tally) =>
        {
            double[] y = new double[k];
            double[,] v = new double[k, k];
            double lot = shared ? 0.04 / Math.Sqrt(3) : 0, common = lot * random.Normal();
            for (int i = 0; i < k; i++)
            {
                double error = 0.04 + 0.06 * random.Uniform();
                for (int j = 0; j < k; j++) v[i, j] = lot * lot;
                v[i, i] = error * error;
                y[i] = tau * random.Normal() + common + Math.Sqrt(error * error - lot * lot) * random.Normal();
            }
            CorrelatedEffectsMean fit = CorrelatedEffectsMean.Fit(y, v);
            double next = tau * random.Normal();
            tally.Add(0, fit.Interval(0.95), 0);
            tally.Add(1, fit.Prediction(0.95), next);
            tally.Add(2, fit.PlainPrediction(0.95), next);
        });
}
