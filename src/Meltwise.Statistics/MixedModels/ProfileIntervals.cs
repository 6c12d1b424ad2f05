using MathNet.Numerics.RootFinding;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.MixedModels;

/// <summary>Intervals from the likelihood itself: all values that a likelihood-ratio test would not refuse.</summary>
/// <remarks>
/// <para><b>Formula.</b> {v : 2(ℓ_max - ℓ_profile(v)) ≤ χ²(level; 1)}, the other parameters at their best for each v.</para>
/// <para><b>Limits.</b> Large-sample level; honest about skewness and about zero, unlike estimate ± standard error. Coefficients need a full
/// maximum likelihood fit. <b>Source.</b> [VenzonMoolgavkar1988]; [PinheiroBates2000], 2.4.</para>
/// </remarks>
public static class ProfileIntervals
{
    /// <summary>Interval of the standard deviation of a component, in the unit of the readings; starts at 0 where 0 is not refused.</summary>
    /// <param name="fit">A fitted model.</param>
    /// <param name="component">Index into <see cref="MixedFit.Components"/>; the last is the residual.</param>
    /// <param name="level">Coverage, such as 0.95.</param>
    public static (double Lower, double Upper) StandardDeviation(MixedFit fit, int component, double level)
    {
        ArgumentNullException.ThrowIfNull(fit);
        double best = Math.Sqrt(fit.Variances[component]), typical = Math.Sqrt(fit.Variances.Sum());
        bool residual = component == fit.Variances.Length - 1;
        double Excess(double sd)
        {
            double?[] held = new double?[fit.Variances.Length];
            held[component] = sd * sd;
            double[] start = [.. fit.Variances.Select((v, k) => Math.Max(v, k == component ? 0 : 0.01 * typical * typical))];
            return Drop(fit, VarianceSearch.Maximise(fit.Data, fit.IsRestricted, start, held).At.LogLikelihood, level);
        }
        double floor = residual ? 1e-3 * best : 0;
        double lower = best <= floor || Excess(floor) <= 0 ? floor : Brent.FindRoot(Excess, floor, best, 1e-9 * typical, 200);
        double far = Math.Max(best, 0.1 * typical) * 2;
        while (Excess(far) < 0) far *= 2;
        return (lower, Brent.FindRoot(Excess, best, far, 1e-9 * typical, 200));
    }

    /// <summary>Interval of a fixed coefficient.</summary>
    /// <exception cref="InvalidOperationException">The fit is a restricted one, whose likelihoods differ with the fixed part.</exception>
    public static (double Lower, double Upper) Coefficient(MixedFit fit, int coefficient, double level)
    {
        ArgumentNullException.ThrowIfNull(fit);
        if (fit.IsRestricted)
            throw new InvalidOperationException("The profile of a coefficient needs a fit by full maximum likelihood; this one is restricted.");
        double best = fit.Coefficients[coefficient], error = Math.Sqrt(fit.CoefficientCovariance[coefficient, coefficient]);
        double[][] others = [.. fit.Design.Where((_, j) => j != coefficient)];
        string[] names = [.. fit.CoefficientNames.Where((_, j) => j != coefficient)];
        double Excess(double b)
        {
            double[] y = [.. fit.Readings.Select((v, i) => v - b * fit.Design[coefficient][i])];
            MixedData data = MixedData.Of(y, others, names, fit.Data.Terms, fit.Weights);
            return Drop(fit, VarianceSearch.Maximise(data, reml: false, LinearMixedModel.Start(data), new double?[fit.Variances.Length]).At.LogLikelihood, level);
        }
        double reach = 3 * error;
        while (Excess(best - reach) < 0 || Excess(best + reach) < 0) reach *= 2;
        return (Brent.FindRoot(Excess, best - reach, best, 1e-9 * error, 200), Brent.FindRoot(Excess, best, best + reach, 1e-9 * error, 200));
    }

    private static double Drop(MixedFit fit, double logLikelihood, double level) =>
        2 * (fit.LogLikelihood - logLikelihood) - ChiSquared.Quantile(level, 1);
}
