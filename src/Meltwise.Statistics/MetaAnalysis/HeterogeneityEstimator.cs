using MathNet.Numerics.RootFinding;

namespace Meltwise.Statistics.MetaAnalysis;

/// <summary>How the variance between comparisons, τ², is estimated.</summary>
public enum HeterogeneityEstimator
{
    /// <summary>Restricted maximum likelihood; the default.</summary>
    Restricted,

    /// <summary>Maximum likelihood.</summary>
    MaximumLikelihood,

    /// <summary>Moments with fixed-effect weights [DerSimonianLaird1986].</summary>
    DerSimonianLaird,

    /// <summary>The τ² at which Q equals its expectation [PauleMandel1982]; the empirical Bayes estimate is the same.</summary>
    PauleMandel,

    /// <summary>Moments, Q less the number of comparisons [HunterSchmidt2004].</summary>
    HunterSchmidt,

    /// <summary>Two steps from a crude start, always positive [SidikJonkman2005].</summary>
    SidikJonkman,

    /// <summary>Unweighted moments [HedgesOlkin1985].</summary>
    Hedges,
}

/// <summary>Estimates of τ² and its profile of Q.</summary>
internal static class Heterogeneity
{
    public static double Estimate(double[] y, double[] v, HeterogeneityEstimator estimator)
    {
        int k = y.Length;
        double sumW = v.Sum(x => 1 / x), sumW2 = v.Sum(x => 1 / (x * x));
        double value = estimator switch
        {
            HeterogeneityEstimator.Restricted => LikelihoodRoot(y, v, restricted: true),
            HeterogeneityEstimator.MaximumLikelihood => LikelihoodRoot(y, v, restricted: false),
            HeterogeneityEstimator.DerSimonianLaird => (Q(y, v, 0) - (k - 1)) / (sumW - sumW2 / sumW),
            HeterogeneityEstimator.PauleMandel => WhereQIs(y, v, k - 1),
            HeterogeneityEstimator.HunterSchmidt => (Q(y, v, 0) - k) / sumW,
            HeterogeneityEstimator.SidikJonkman => SidikJonkman(y, v),
            _ => y.Sum(x => Squared(x - y.Average())) / (k - 1) - v.Average(),
        };
        return Math.Max(0, value);
    }

    /// <summary>Σ w (y - μ)² with w = 1/(v + τ²) and the weighted mean μ.</summary>
    public static double Q(double[] y, double[] v, double tau2)
    {
        (double mean, _) = Mean(y, v, tau2);
        double q = 0;
        for (int i = 0; i < y.Length; i++) q += Squared(y[i] - mean) / (v[i] + tau2);
        return q;
    }

    /// <summary>Weighted mean and Σ w.</summary>
    public static (double Mean, double Weight) Mean(double[] y, double[] v, double tau2)
    {
        double sum = 0, weight = 0;
        for (int i = 0; i < y.Length; i++)
        {
            double w = 1 / (v[i] + tau2);
            sum += w * y[i];
            weight += w;
        }
        return (sum / weight, weight);
    }

    /// <summary>The τ² at which Q has the given value; 0 where it is below that already. Q falls as τ² grows.</summary>
    public static double WhereQIs(double[] y, double[] v, double target)
    {
        if (Q(y, v, 0) <= target) return 0;
        double high = Spread(y);
        while (Q(y, v, high) > target) high *= 2;
        return Brent.FindRoot(t => Q(y, v, t) - target, 0, high, 1e-15 * high, 500);
    }

    public static double LogLikelihood(double[] y, double[] v, double tau2, bool restricted)
    {
        (_, double weight) = Mean(y, v, tau2);
        double log = 0;
        foreach (double x in v) log += Math.Log(x + tau2);
        int n = restricted ? y.Length - 1 : y.Length;
        return -0.5 * (n * Math.Log(2 * Math.PI) + log + (restricted ? Math.Log(weight) : 0) + Q(y, v, tau2));
    }

    /// <summary>Zero of the likelihood score; the likelihood at 0 decides where the score never rises.</summary>
    private static double LikelihoodRoot(double[] y, double[] v, bool restricted)
    {
        double Score(double t)
        {
            (double mean, double weight) = Mean(y, v, t);
            double score = 0, w2 = 0;
            for (int i = 0; i < y.Length; i++)
            {
                double w = 1 / (v[i] + t);
                score += w * w * Squared(y[i] - mean) - w;
                w2 += w * w;
            }
            return restricted ? score + w2 / weight : score;
        }

        // From above: the largest root. Where the score is below 0 everywhere on the grid the maximum is at 0.
        double top = 4 * Spread(y);
        double high = top;
        for (int i = 0; i < 60; i++)
        {
            double low = high / 1.6;
            if (Score(low) > 0)
            {
                double root = Brent.FindRoot(Score, low, high, 1e-15 * top, 500);
                return LogLikelihood(y, v, root, restricted) >= LogLikelihood(y, v, 0, restricted) ? root : 0;
            }
            high = low;
        }
        return 0;
    }

    private static double SidikJonkman(double[] y, double[] v)
    {
        double start = y.Sum(x => Squared(x - y.Average())) / y.Length;
        double[] ratio = [.. v.Select(x => x / start)];
        return Q(y, ratio, 1) / (y.Length - 1);
    }

    private static double Spread(double[] y)
    {
        double mean = y.Average();
        return Math.Max(1e-300, y.Sum(x => Squared(x - mean)) / Math.Max(1, y.Length - 1));
    }

    private static double Squared(double x) => x * x;
}
