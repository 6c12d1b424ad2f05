using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Uncertainty;

/// <summary>What a measured value says about a limit.</summary>
public enum ConformityDecision
{
    /// <summary>Inside the limits by at least the guard band.</summary>
    Accept,

    /// <summary>Outside by at least the guard band.</summary>
    Reject,

    /// <summary>Within the guard band of a limit: neither is shown.</summary>
    Undetermined,
}

/// <summary>Conformity of a measured value with limits, its uncertainty counted.</summary>
/// <remarks><b>Formula.</b> Conformance probability Φ((U - y)/u) - Φ((L - y)/u); guard band w = z(1 - risk)·u keeps the chance of a wrong acceptance at or below the risk;
/// consumer's and producer's risk for a process N(μ, u₀²) by quadrature over true values. <b>Limits.</b> Normal measurement error. <b>Source.</b> [JCGM106], 7 to 9.</remarks>
public static class Conformity
{
    /// <summary>Probability that the true value lies within the limits; infinite limits are allowed.</summary>
    public static double Probability(double value, double uncertainty, double lower, double upper)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(uncertainty);
        double low = (lower - value) / uncertainty, high = (upper - value) / uncertainty;
        return low > 0 ? Normal.UpperTail(low) - Normal.UpperTail(high) : Normal.Cdf(high) - Normal.Cdf(low);
    }

    /// <summary>Width of the guard band for a largest chance of wrong acceptance.</summary>
    public static double GuardBand(double uncertainty, double risk) => -Normal.Quantile(risk) * uncertainty;

    /// <summary>Chance that a value accepted right at a limit moved in by w is wrong, one limit counting.</summary>
    public static double WorstFalseAcceptance(double guardBand, double uncertainty) => Normal.UpperTail(guardBand / uncertainty);

    /// <summary>Decides with a guard band on both sides of each limit.</summary>
    public static ConformityDecision Decide(double value, double lower, double upper, double guardBand) =>
        value >= lower + guardBand && value <= upper - guardBand ? ConformityDecision.Accept
        : value <= lower - guardBand || value >= upper + guardBand ? ConformityDecision.Reject
        : ConformityDecision.Undetermined;

    /// <summary>Shares of all items that are wrongly accepted, wrongly rejected, and accepted, for tolerances ±T about 0 and acceptance within ±(T - w).</summary>
    /// <param name="tolerance">T.</param>
    /// <param name="guardBand">w; negative where the acceptance interval is wider.</param>
    /// <param name="measurementUncertainty">Standard uncertainty of a measurement.</param>
    /// <param name="processMean">Mean of the true values.</param>
    /// <param name="processSd">Their standard deviation.</param>
    public static GlobalRisks Risks(double tolerance, double guardBand, double measurementUncertainty, double processMean, double processSd)
    {
        double accept = tolerance - guardBand;
        double Accepted(double truth) => Normal.Cdf((accept - truth) / measurementUncertainty) - Normal.Cdf((-accept - truth) / measurementUncertainty);
        double Density(double truth) => Normal.Density((truth - processMean) / processSd) / processSd;
        double consumer = Integral(t => Density(t) * Accepted(t), processMean - 10 * processSd, -tolerance) + Integral(t => Density(t) * Accepted(t), tolerance, processMean + 10 * processSd);
        double producer = Integral(t => Density(t) * (1 - Accepted(t)), -tolerance, tolerance);
        double total = Math.Sqrt(measurementUncertainty * measurementUncertainty + processSd * processSd);
        return new(consumer, producer, Normal.Cdf((accept - processMean) / total) - Normal.Cdf((-accept - processMean) / total));
    }

    private static double Integral(Func<double, double> f, double from, double to)
    {
        if (to <= from) return 0;
        const int Panels = 60;
        double sum = 0, width = (to - from) / Panels;
        for (int i = 0; i < Panels; i++) sum += MathNet.Numerics.Integration.GaussLegendreRule.Integrate(f, from + i * width, from + (i + 1) * width, 12);
        return sum;
    }
}

/// <summary>Shares of all items.</summary>
/// <param name="Consumer">Accepted and outside the tolerance.</param>
/// <param name="Producer">Rejected and inside the tolerance.</param>
/// <param name="Accepted">Accepted in all.</param>
public readonly record struct GlobalRisks(double Consumer, double Producer, double Accepted);
