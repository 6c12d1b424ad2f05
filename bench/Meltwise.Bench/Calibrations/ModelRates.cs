using Meltwise.Statistics;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.ErrorsInVariables;
using Meltwise.Statistics.LeastSquares;
using Meltwise.Statistics.MetaAnalysis;
using Meltwise.Statistics.MixedModels;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.ScatterLaw;

namespace Meltwise.Calibrations;

/// <summary>Coverage of the intervals of models: variance components, contrasts of sources, lines with error in both, scatter laws.</summary>
internal static class ModelRates
{
    public static RateTable Mixed { get; } = new()
    {
        Name = "calibrate-mixed",
        Title = "Mixed models: sources and variance components",
        What = "Two sources of 4 and 7 heats with 2 to 6 coupons, or as many heats as told, scatter 0.12 within. Difference of the sources by three kinds of degrees of freedom; profile intervals of the heat-to-heat and the residual standard deviation.",
        Columns = [RateColumn.Covers("sources, Kenward-Roger"), RateColumn.Covers("sources, Satterthwaite expected"), RateColumn.Covers("sources, Satterthwaite observed"), RateColumn.Covers("heat to heat, profile"), RateColumn.Covers("residual, profile")],
        Designs = [.. from heats in (int[])[11, 30] from tau in (double[])[0.03, 0.06, 0.12] select Sources(heats, tau)],
        Replicates = 4_000,
        Reduced = 100,
        Seed = 314,
    };

    public static RateTable Lines { get; } = new()
    {
        Name = "calibrate-lines",
        Title = "Lines with error in both variables, and scatter laws",
        What = "12 or 30 points: hardness spread over 1 HRC and read to 0.3 HRC, ln energy with slope -0.09 and error 0.05. York and the known-error line with the errors given, Deming with their ratio and its jackknife, latent hardness with a heat scatter of 0.05 more; t with n - 2. Exponent of the scatter law from as many groups of 3 to 6 coupons (CV 0.15, means over a factor 6) and by generalized least squares on single readings; spread τ between as many comparisons (τ 0.06, standard errors 0.05).",
        Columns = [RateColumn.Covers("York slope"), RateColumn.Covers("Deming slope, jackknife"), RateColumn.Covers("known-error slope"), RateColumn.Covers("latent-hardness slope"), RateColumn.Covers("exponent, gamma law"), RateColumn.Covers("exponent, generalized least squares"), RateColumn.Covers("τ, profile of Q")],
        Designs = [Line(12, 1), Line(30, 1), Line(12, 1.4), Line(30, 0.5)],
        Replicates = 4_000,
        Reduced = 100,
        Seed = 315,
    };

    private static Design Sources(int heats, double tau) => new(FormattableString.Invariant($"{heats} heats, heat spread {tau:F2}"), (ref RandomStream random, Tally tally) =>
    {
        List<double> y = [], source = [];
        List<string> heat = [];
        for (int h = 0; h < heats; h++)
        {
            double u = tau * random.Normal();
            for (int i = 0, n = 2 + h % 5; i < n; i++)
            {
                y.Add(u + 0.12 * random.Normal());
                source.Add(h < 4 * heats / 11 ? 1 : 0);
                heat.Add($"{h}");
            }
        }
        MixedFit fit = LinearMixedModel.Fit(y, [y.ConvertAll(_ => 1.0), source], ["mean", "source"], [RandomTerm.Of("heat", heat)]);
        DegreesOfFreedomMethod[] methods = [DegreesOfFreedomMethod.KenwardRoger, DegreesOfFreedomMethod.SatterthwaiteExpected, DegreesOfFreedomMethod.SatterthwaiteObserved];
        for (int m = 0; m < 3; m++)
        {
            MixedContrast c = fit.Coefficient(1, methods[m]);
            tally.Add(m, (c with { DegreesOfFreedom = Math.Max(1, c.DegreesOfFreedom) }).Interval(0.95), 0);
        }
        tally.Add(3, ProfileIntervals.StandardDeviation(fit, 0, 0.95), tau);
        tally.Add(4, ProfileIntervals.StandardDeviation(fit, 1, 0.95), 0.12);
    });

    private static Design Line(int n, double exponent) => new(FormattableString.Invariant($"{n} points, exponent {exponent}"), (ref RandomStream random, Tally tally) =>
    {
        double[] x = new double[n], y = new double[n], scattered = new double[n], ux = [.. Enumerable.Repeat(0.3, n)], uy = [.. Enumerable.Repeat(0.05, n)];
        for (int i = 0; i < n; i++)
        {
            double hardness = random.Normal(), mean = -0.09 * hardness;
            x[i] = hardness + 0.3 * random.Normal();
            y[i] = mean + 0.05 * random.Normal();
            scattered[i] = y[i] + 0.05 * random.Normal();
        }
        double t = StudentT.Quantile(0.975, n - 2);
        LineFit york = YorkLine.Fit(x, y, ux, uy);
        tally.Add(0, Around(york.Slope, t * york.SlopeStandardError), -0.09);
        (double deming, _, double error, _) = DemingLine.Fit(x, y, 0.05 * 0.05 / (0.3 * 0.3));
        tally.Add(1, Around(deming, t * error), -0.09);
        KnownErrorFit known = KnownErrorLine.Fit(x, y, 0.09);
        tally.Add(2, Around(known.Slope, t * known.SlopeStandardError), -0.09);
        try
        {
            LatentTrendFit latent = LatentHardnessTrend.Fit(x, [.. ux.Select(u => u * u)], scattered, [.. uy.Select(u => u * u)]);
            tally.Add(3, Around(latent.Slope, t * latent.SlopeStandardError), -0.09);
        }
        catch (InsufficientDataException)
        {
            // A refusal is not an interval.
        }
        Exponents(ref random, n, exponent, tally);
        double[] effects = new double[n];
        for (int i = 0; i < n; i++) effects[i] = 0.06 * random.Normal() + 0.05 * random.Normal();
        (double lower, double upper) = RandomEffectsMean.Fit(effects, [.. effects.Select(_ => 0.0025)]).TauSquaredInterval;
        tally.Add(6, (lower, upper), 0.0036);
    });

    private static void Exponents(ref RandomStream random, int groups, double exponent, Tally tally)
    {
        List<ScatterGroup> law = [];
        List<double> readings = [], mean = [];
        for (int g = 0; g < groups; g++)
        {
            double m = 20 * Math.Pow(6, (g + 0.5) / groups);
            double[] z = IntervalRates.Draw(ref random, 3 + g % 4, Math.Log(m), 0.15 * Math.Pow(m / 50, exponent - 1));
            law.Add(new(IntervalRates.Mean(z), IntervalRates.Variance(z), z.Length - 1));
            for (int i = 0; i < 4; i++)
            {
                readings.Add(m + 0.15 * 50 * Math.Pow(m / 50, exponent) * random.Normal());
                mean.Add(m);
            }
        }
        if (GammaVarianceLaw.Fit(law)?.Interval is { } interval) tally.Add(4, interval, exponent);
        ScatterTrendFit fit = ScatterTrendRegression.Fit(readings, [readings.ConvertAll(_ => 1.0), mean], ["intercept", "slope"], covariate: mean);
        tally.Add(5, Around(fit.Exponent, 1.959964 * fit.ExponentStandardError), exponent);
    }

    private static (double, double) Around(double estimate, double half) => (estimate - half, estimate + half);
}
