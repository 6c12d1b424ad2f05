using MathNet.Numerics;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Extremes;

/// <summary>Strength or life governed by the worst flaw: two-parameter Weibull by maximum likelihood, with readings that did not fail.</summary>
/// <remarks>
/// <para><b>Model.</b> F(x) = 1 - exp(-(x/η)^m); a reading that did not fail counts with its survival probability. Standard errors from the observed information; intervals exact for complete samples (<see cref="GumbelPivots"/>), else by <see cref="CensoredWeibullLimits"/>.</para>
/// <para><b>Limits.</b> At least 3 failures, values above 0. The shape of small samples is too high: <see cref="WeibullFit.UnbiasedShape"/> (complete samples only).</para>
/// <para><b>Source.</b> [Lawless2003], 5.2; unbiasing factors [ThomanBainAntle1969].</para>
/// </remarks>
public static class WeibullStrength
{
    /// <summary>Fits the readings.</summary>
    /// <param name="values">Values above 0.</param>
    /// <param name="failed">Whether each failed there; null where all did.</param>
    public static WeibullFit Fit(IReadOnlyList<double> values, IReadOnlyList<bool>? failed = null)
    {
        ArgumentNullException.ThrowIfNull(values);
        bool[] fails = failed is null ? [.. Enumerable.Repeat(true, values.Count)] : [.. failed];
        int d = fails.Count(f => f);
        if (d < 3) throw new InsufficientDataException($"A Weibull fit needs at least 3 failures; got {d}.");
        if (values.Any(v => !(v > 0))) throw new ArgumentException("Weibull values must be above 0.", nameof(values));
        if (values.All(v => v <= values[0]) && values.All(v => v >= values[0])) throw new InsufficientDataException($"A Weibull fit needs readings that differ; all {values.Count} are the same.");
        double[] logs = [.. values.Select(v => Math.Log(v))];
        WeibullLikelihood likelihood = new(logs, fails);
        CensoredWeibullLimits? limits = d < values.Count || d < GumbelLargest.FewestAreas ? new(likelihood, logs, fails) : null;
        return WeibullFit.Of([.. values], fails, likelihood.Shape, Math.Exp(likelihood.LogScale)) with { Limits = limits };
    }

    /// <summary>Likelihood-ratio test that two lots share one distribution; χ² with 2 degrees of freedom.</summary>
    public static (double Statistic, double P) SameDistribution(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        double statistic = 2 * (Fit(first).LogLikelihood + Fit(second).LogLikelihood - Fit([.. first, .. second]).LogLikelihood);
        return (statistic, ChiSquared.UpperTail(statistic, 2));
    }
}

/// <summary>A fitted Weibull distribution.</summary>
/// <param name="Shape">m.</param>
/// <param name="Scale">η, the 63rd percentile.</param>
/// <param name="LogLikelihood">Log-likelihood at the maximum.</param>
/// <param name="ShapeStandardError">Standard error of m.</param>
/// <param name="ScaleStandardError">Standard error of η.</param>
/// <param name="Covariance">Covariance of m and η.</param>
/// <param name="Failures">Number of failures.</param>
/// <param name="Readings">Number of readings.</param>
public sealed record WeibullFit(double Shape, double Scale, double LogLikelihood, double ShapeStandardError, double ScaleStandardError, double Covariance, int Failures, int Readings)
{
    private static readonly (int N, double Factor)[] s_unbiasing = [(5, 0.700), (10, 0.859), (20, 0.931), (30, 0.955), (50, 0.973)];

    internal static WeibullFit Of(double[] x, bool[] failed, double m, double eta)
    {
        double log = 0, mm = 0, me = 0, ee = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double l = Math.Log(x[i] / eta), p = Math.Exp(m * l);
            if (failed[i]) log += Math.Log(m / eta) + (m - 1) * l;
            log -= p;
            double fail = failed[i] ? 1 : 0;
            mm += fail / (m * m) + p * l * l;
            me += (fail - p - m * p * l) / eta;
            ee += m / (eta * eta) * ((m + 1) * p - fail);
        }
        double determinant = mm * ee - me * me;
        return new(m, eta, log, Math.Sqrt(ee / determinant), Math.Sqrt(mm / determinant), -me / determinant, failed.Count(f => f), x.Length);
    }

    /// <summary>Mean.</summary>
    public double Mean => Scale * SpecialFunctions.Gamma(1 + 1 / Shape);

    /// <summary>Value that the share p does not reach.</summary>
    public double Quantile(double p) => Scale * Math.Pow(-Math.Log(1 - p), 1 / Shape);

    internal CensoredWeibullLimits? Limits { get; init; }

    /// <summary>Interval of the shape: exact where 6 or more readings all failed, otherwise by <see cref="CensoredWeibullLimits"/>.</summary>
    public (double Lower, double Upper) ShapeInterval(double level) =>
        Limits?.Shape(level) ?? (GumbelPivots.Scale(1 / Shape, Readings, level) is var (low, high) ? (1 / high, 1 / low) : default);

    /// <summary>Interval of the scale, as <see cref="ShapeInterval"/>.</summary>
    public (double Lower, double Upper) ScaleInterval(double level) =>
        Limits?.Scale(level) ?? (GumbelPivots.Level(-Math.Log(Scale), 1 / Shape, Readings, 0, level) is var (low, high) ? (Math.Exp(-high), Math.Exp(-low)) : default);

    /// <summary>Shape times the unbiasing factor of its sample size, interpolated in 1/n; null for samples with readings that did not fail or outside 5 to 50.</summary>
    /// <remarks>Factors of [ThomanBainAntle1969] (from memory). Simulation gives 0.855 instead of 0.859 at n = 10; the table is used because later standards reuse it.</remarks>
    public double? UnbiasedShape
    {
        get
        {
            if (Failures != Readings || Readings < s_unbiasing[0].N || Readings > s_unbiasing[^1].N) return null;
            int i = Array.FindLastIndex(s_unbiasing, row => row.N <= Readings);
            if (s_unbiasing[i].N == Readings) return Shape * s_unbiasing[i].Factor;
            double a = 1.0 / s_unbiasing[i].N, b = 1.0 / s_unbiasing[i + 1].N, share = (a - 1.0 / Readings) / (a - b);
            return Shape * (s_unbiasing[i].Factor + share * (s_unbiasing[i + 1].Factor - s_unbiasing[i].Factor));
        }
    }
}
