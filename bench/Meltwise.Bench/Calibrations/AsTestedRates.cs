using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Calibrations;

/// <summary>Error rates of the as-tested outcomes where scatter is a power of the mean and readings are skewed.</summary>
internal static class AsTestedRates
{
    private const double Floor = 0.05, GammaShape = 8;
    private static readonly double s_low = Math.Log(0.8), s_high = Math.Log(1.25);
    private static readonly double[] s_truths = [0.8, 1, 1.25];

    public static RateTable Table { get; } = new()
    {
        Name = "calibrate-as-tested",
        Title = "Error rates as tested, by scatter exponent",
        What = "Two lots of n coupons, margin 0.80..1.25, α 0.05, own variances on logarithms. Readings have the CV of the reference at its mean and a standard deviation that goes as mean^exponent; their shape is normal, or skewed by ±0.71, on the raw scale, and none is below 5 % of the mean. False agreement is at a true ratio of geometric means at the margin, false difference at 1, false better or worse is a claim beyond the margin at the margin.",
        Columns = [RateColumn.Errs("false agreement at 0.80"), RateColumn.Errs("false agreement at 1.25"), RateColumn.Errs("false difference"), RateColumn.Errs("false worse at 0.80", 0.025), RateColumn.Errs("false better at 1.25", 0.025), RateColumn.Tells("agreement at 1")],
        Designs = [.. from shape in Enum.GetValues<Shape>() from exponent in (double[])[0.5, 1, 1.4] from cv in (double[])[0.10, 0.15, 0.25] from n in (int[])[3, 4, 6, 9, 15] select Of(shape, exponent, cv, n)],
        Replicates = 20_000,
        Reduced = 1_000,
        Seed = 301,
    };

    /// <summary>Shape of the readings on the raw scale.</summary>
    internal enum Shape
    {
        Normal,
        Right,
        Left,
    }

    /// <summary>The design of one row; its heading is the one that the oracle's rows are found by.</summary>
    internal static Design Of(Shape shape, double exponent, double cv, int n)
    {
        double[] means = [.. s_truths.Select(t => MeanFor(shape, t, cv, exponent))];
        return new(FormattableString.Invariant($"{(shape == Shape.Normal ? "normal" : shape == Shape.Right ? "skewed right" : "skewed left")}, exponent {exponent}, CV {cv * 100:0} %, n {n}"), (ref RandomStream random, Tally tally) =>
        {
            double[] z = new double[2 * n], unit = new double[2 * n];
            bool[] candidate = [.. Enumerable.Range(0, 2 * n).Select(i => i < n)];
            int[] load = new int[2 * n];
            for (int i = 0; i < unit.Length; i++) unit[i] = Draw(ref random, shape);
            for (int t = 0; t < s_truths.Length; t++)
            {
                double m = means[t], spread = cv * Math.Pow(m, exponent - 1);
                for (int i = 0; i < z.Length; i++) z[i] = i < n ? Log(m, spread, unit[i]) : Log(1, cv, unit[i]);
                Note(tally, t, WithinLoadContrast.Fit(z, candidate, load, 1)!.Own);
            }
        });
    }

    private static void Note(Tally tally, int truth, ContrastEstimate e)
    {
        bool agrees = e.PEquivalence(s_low, s_high) < 0.05;
        switch (truth)
        {
            case 0:
                tally.Add(0, agrees);
                tally.Add(3, e.PNotAbove(s_low) > 0.975);
                break;
            case 1:
                tally.Add(2, e.PDifference < 0.05);
                tally.Add(5, agrees);
                break;
            default:
                tally.Add(1, agrees);
                tally.Add(4, e.PNotAbove(s_high) < 0.025);
                break;
        }
    }

    /// <summary>Logarithm of one reading of a lot of a mean.</summary>
    internal static double LogReading(ref RandomStream random, Shape shape, double mean, double cv, double exponent) => Log(mean, cv * Math.Pow(mean, exponent - 1), Draw(ref random, shape));

    private static double Log(double mean, double spread, double unit) => Math.Log(mean * Math.Max(1 + spread * unit, Floor));

    private static double Draw(ref RandomStream random, Shape shape)
    {
        if (shape == Shape.Normal) return random.Normal();
        double g = (random.ChiSquared(2 * GammaShape) / 2 - GammaShape) / Math.Sqrt(GammaShape);
        return shape == Shape.Right ? g : -g;
    }

    /// <summary>The candidate's mean at which the ratio of geometric means is the truth, the reference's mean being 1.</summary>
    internal static double MeanFor(Shape shape, double truth, double cv, double exponent)
    {
        double[] quantiles = Quantiles(shape);
        double MeanLog(double spread) => quantiles.Average(q => Math.Log(Math.Max(1 + spread * q, Floor)));
        double reference = MeanLog(cv), mean = truth;
        for (int i = 0; i < 25; i++) mean = truth * Math.Exp(reference - MeanLog(cv * Math.Pow(mean, exponent - 1)));
        return mean;
    }

    private static double[] Quantiles(Shape shape)
    {
        double[] p = [.. Enumerable.Range(0, 2000).Select(i => (i + 0.5) / 2000)];
        if (shape == Shape.Normal) return [.. p.Select(Normal.Quantile)];
        return [.. p.Select(v => (ChiSquared.Quantile(v, 2 * GammaShape) / 2 - GammaShape) / Math.Sqrt(GammaShape) * (shape == Shape.Right ? 1 : -1))];
    }
}
