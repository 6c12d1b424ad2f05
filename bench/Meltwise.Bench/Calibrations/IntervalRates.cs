using Meltwise.Statistics;
using Meltwise.Statistics.Bayesian;
using Meltwise.Statistics.Censored;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Extremes;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Tolerance;

namespace Meltwise.Calibrations;

/// <summary>Coverage of the intervals for two lots and of the limits for one.</summary>
internal static class IntervalRates
{
    public static RateTable TwoLots { get; } = new()
    {
        Name = "calibrate-two-lots",
        Title = "Intervals for two lots",
        What = "Normal logarithms, scatter 0.15 in the reference and as told in the candidate, true ratio of geometric means 1.1; 95 % intervals. Arithmetic means are those of the lots' log-normal distributions; trimming is 20 %; permutation where there are at most 50000 splits; bootstraps of 1000 resamples. The posterior's interval is taken in one replicate of eight; it is shown beside the verdict and not counted.",
        Columns = [RateColumn.Covers("Welch"), RateColumn.Covers("ratio of arithmetic means, Fieller"), RateColumn.Covers("difference of arithmetic means"), RateColumn.Covers("trimmed means, Yuen", allowance: 0.025), RateColumn.Covers("permutation", allowance: 0.02), RateColumn.Covers("bootstrap, BCa", allowance: 0.16), RateColumn.Covers("bootstrap, studentized"), RateColumn.Covers("posterior"), RateColumn.Covers("ratio of scatters")],
        Designs = [.. from n in (int[])[3, 5, 6, 9, 15] from ratio in (double[])[1, 2] select Lots(n, n, ratio), .. new[] { Lots(5, 8, 1), Lots(5, 8, 2), Lots(8, 5, 2) }],
        Replicates = 10_000,
        Reduced = 50,
        Seed = 310,
    };

    public static RateTable CensoredLots { get; } = new()
    {
        Name = "calibrate-censored",
        Title = "Two lots with bounds among the readings",
        What = "Normal logarithms, scatter 0.15, no true difference; readings above a bound that is exceeded with the chance told are only known to lie above it. Refused where fewer than 3, or fewer than half, of a lot's readings have a value, as the verdict does.",
        Columns = [RateColumn.Covers("95 % interval"), RateColumn.Errs("false agreement at 1.25"), RateColumn.Tells("refused")],
        Designs = [.. from n in (int[])[4, 6, 9, 15] from share in (double[])[0.1, 0.3] select CensoredDesign(n, share)],
        Replicates = 20_000,
        Reduced = 1_000,
        Seed = 311,
    };

    public static RateTable OneLot { get; } = new()
    {
        Name = "calibrate-one-lot",
        Title = "Limits for one lot",
        What = "n normal readings. Tolerance limits for 95 % of coupons with 95 % confidence, prediction limits for the mean of the next 3 and for all of the next 3 coupons, distribution-free tolerance by the smallest of 59.",
        Columns = [RateColumn.Covers("lower tolerance limit"), RateColumn.Covers("two-sided tolerance limits"), RateColumn.Covers("mean of the next 3"), RateColumn.Covers("all of the next 3"), RateColumn.Covers("smallest of 59")],
        Designs = [.. from n in (int[])[3, 6, 15] select Limits(n)],
        Replicates = 100_000,
        Reduced = 5_000,
        Seed = 312,
    };

    public static RateTable Extremes { get; } = new()
    {
        Name = "calibrate-extremes",
        Title = "Largest inclusion and Weibull strength",
        What = "Field maxima from a Gumbel distribution (location 20, scale 4): the largest expected in 1000 fields by the interval that is exact for the number of fields, and ± 2 standard errors as ASTM E2283 has it. Weibull (shape 8, scale 1000): shape and scale exact for complete samples; with the upper 30 % not failed, or half of the readings ended at 20 % and half at 40 % above, by signed roots with simulated quantiles. Samples with fewer than 3 failures are left out.",
        Columns = [RateColumn.Covers("return level, exact"), RateColumn.Covers("return level, two standard errors", allowance: 0.08), RateColumn.Covers("Weibull shape"), RateColumn.Covers("Weibull scale"), RateColumn.Covers("Weibull shape, 30 % censored"), RateColumn.Covers("Weibull scale, 30 % censored"), RateColumn.Covers("Weibull shape, two bounds"), RateColumn.Covers("Weibull scale, two bounds")],
        Designs = [.. from n in (int[])[12, 24, 48] select Extreme(n)],
        Replicates = 20_000,
        Reduced = 1_000,
        Seed = 313,
    };

    private static Design Lots(int n, int m, double ratio) => new($"n {n} and {m}, candidate scatters ×{ratio:0}", (ref RandomStream random, Tally tally) =>
    {
        double sc = 0.15 * ratio, sr = 0.15, truth = Math.Log(1.1);
        double[] c = Draw(ref random, n, truth, sc), r = Draw(ref random, m, 0, sr);
        double[] ec = [.. c.Select(Math.Exp)], er = [.. r.Select(Math.Exp)];
        tally.Add(0, Welch(c, r).Interval(0.95), truth);
        FiellerResult fieller = FiellerRatio.Of(ec, er);
        double meanC = Math.Exp(truth + sc * sc / 2), meanR = Math.Exp(sr * sr / 2);
        tally.Add(1, (fieller.Lower, fieller.Upper), meanC / meanR);
        tally.Add(2, Welch(ec, er).Interval(0.95), meanC - meanR);
        if (Math.Min(n, m) >= 5)
        {
            tally.Add(3, TrimmedMeans.Fit(c, r).Interval(0.95), truth);
            if (n + m <= 13 && StudentizedPermutation.Fit(c, r) is { } permutation) tally.Add(4, permutation.Interval(0.95), truth);
        }
        long seed = (long)random.Bits();
        BootstrapResult bootstrap = Bootstrap.TwoSample(c, r, (a, b) => Mean(a) - Mean(b), 1000, seed);
        tally.Add(5, bootstrap.Bca, truth);
        tally.Add(6, Bootstrap.Studentized(c, r, (a, b) => (Mean(a) - Mean(b), Math.Sqrt(Variance(a) / a.Length + Variance(b) / b.Length)), 1000, seed), truth);
        if (random.Index(8) == 0) tally.Add(7, new RatioPosterior(c, r).Interval(0.95), truth);
        ScatterRatio scatter = ScatterRatio.Of(Variance(c) / Variance(r), n - 1, m - 1);
        tally.Add(8, (scatter.Lower, scatter.Upper), ratio);
    });

    private static Design CensoredDesign(int n, double share)
    {
        double bound = 0.15 * Normal.Quantile(1 - share);
        return new(FormattableString.Invariant($"n {n}, {share * 100:0} % above the bound"), (ref RandomStream random, Tally tally) =>
        {
            CensoredNormal? c = Fit(ref random, n, bound), r = Fit(ref random, n, bound);
            bool refused = c is null || r is null;
            tally.Add(2, refused);
            if (refused) return;
            ContrastEstimate e = ContrastEstimate.FromParts(c!.Mean - r!.Mean, [new("candidate", c.MeanVariance, c.DegreesOfFreedom), new("reference", r.MeanVariance, r.DegreesOfFreedom)]);
            tally.Add(0, e.Interval(0.95), 0);
            tally.Add(1, (e with { Estimate = e.Estimate + Math.Log(1.25) }).PEquivalence(Math.Log(0.8), Math.Log(1.25)) < 0.05);
        });
    }

    private static CensoredNormal? Fit(ref RandomStream random, int n, double bound)
    {
        double[] z = Draw(ref random, n, 0, 0.15);
        Bound[] bounds = [.. z.Select(v => v > bound ? Bound.Above : Bound.None)];
        int values = bounds.Count(b => b == Bound.None);
        if (values < 3 || 2 * values < n) return null;
        try
        {
            return CensoredNormal.Fit([.. z.Select(v => Math.Min(v, bound))], bounds);
        }
        catch (InsufficientDataException)
        {
            return null;
        }
    }

    private static Design Limits(int n)
    {
        double one = NormalTolerance.OneSided(n, 0.95, 0.95), two = NormalTolerance.TwoSided(n, 0.95, 0.95), mean3 = NormalPrediction.MeanOf(3, n, 0.95, true), all3 = NormalPrediction.AllOf(3, n, 0.95);
        double low = Normal.Quantile(0.05);
        return new($"n {n}", (ref RandomStream random, Tally tally) =>
        {
            double[] x = Draw(ref random, n, 0, 1), next = Draw(ref random, 3, 0, 1);
            double m = Mean(x), s = Math.Sqrt(Variance(x));
            tally.Add(0, m - one * s <= low);
            tally.Add(1, Normal.Cdf(m + two * s) - Normal.Cdf(m - two * s) >= 0.95);
            tally.Add(2, Math.Abs(next.Average() - m) <= mean3 * s);
            tally.Add(3, next.All(v => Math.Abs(v - m) <= all3 * s));
            if (n == 3) tally.Add(4, Draw(ref random, 59, 0, 1).Min() <= low);
        });
    }

    private static Design Extreme(int n) => new($"n {n}", (ref RandomStream random, Tally tally) =>
    {
        double[] maxima = new double[n], strength = new double[n];
        for (int i = 0; i < n; i++)
        {
            maxima[i] = 20 - 4 * Math.Log(-Math.Log(random.Uniform()));
            strength[i] = 1000 * Math.Pow(-Math.Log(random.Uniform()), 1.0 / 8);
        }
        GumbelFit gumbel = GumbelLargest.Fit(maxima);
        double expected = 20 - 4 * Math.Log(-Math.Log(1 - 1.0 / 1000));
        (double level, double error) = gumbel.ReturnLevel(1000, expected: true);
        tally.Add(0, gumbel.ReturnLevelInterval(1000, 0.95), expected);
        tally.Add(1, (level - 2 * error, level + 2 * error), expected);
        WeibullFit weibull = WeibullStrength.Fit(strength);
        tally.Add(2, weibull.ShapeInterval(0.95), 8);
        tally.Add(3, weibull.ScaleInterval(0.95), 1000);
        Ended(tally, 4, strength, 0.3, 0.3);
        Ended(tally, 6, strength, 0.2, 0.4);
    });

    /// <summary>Every second reading ends at the bound that a share of strengths exceeds, the others at another.</summary>
    private static void Ended(Tally tally, int column, double[] strength, params ReadOnlySpan<double> above)
    {
        double[] values = new double[strength.Length];
        bool[] failed = new bool[strength.Length];
        for (int i = 0; i < values.Length; i++)
        {
            double end = 1000 * Math.Pow(-Math.Log(above[i % 2]), 1.0 / 8);
            (values[i], failed[i]) = (Math.Min(strength[i], end), strength[i] <= end);
        }
        if (failed.Count(f => f) < 3) return;
        WeibullFit fit = WeibullStrength.Fit(values, failed);
        tally.Add(column, fit.ShapeInterval(0.95), 8);
        tally.Add(column + 1, fit.ScaleInterval(0.95), 1000);
    }

    private static ContrastEstimate Welch(double[] a, double[] b) =>
        ContrastEstimate.FromParts(Mean(a) - Mean(b), [new("first", Variance(a) / a.Length, a.Length - 1), new("second", Variance(b) / b.Length, b.Length - 1)]);

    internal static double[] Draw(ref RandomStream random, int n, double mean, double sd)
    {
        double[] x = new double[n];
        for (int i = 0; i < n; i++) x[i] = mean + sd * random.Normal();
        return x;
    }

    internal static double Mean(ReadOnlySpan<double> x)
    {
        double sum = 0;
        foreach (double v in x) sum += v;
        return sum / x.Length;
    }

    internal static double Variance(ReadOnlySpan<double> x)
    {
        double mean = Mean(x), sum = 0;
        foreach (double v in x) sum += (v - mean) * (v - mean);
        return sum / (x.Length - 1);
    }
}
