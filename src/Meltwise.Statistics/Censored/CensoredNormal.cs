using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Censored;

/// <summary>How a reading bounds the true value.</summary>
public enum Bound
{
    /// <summary>A value.</summary>
    None,

    /// <summary>The true value is above.</summary>
    Above,

    /// <summary>The true value is below.</summary>
    Below,
}

/// <summary>Mean and standard deviation of a normal sample in which some readings are only bounds.</summary>
/// <param name="Mean">μ.</param>
/// <param name="StandardDeviation">σ, the maximum likelihood estimate (divisor n when nothing is censored).</param>
/// <param name="MeanVariance">Variance of the mean: observed-information variance of μ times n/(n − 1).</param>
/// <param name="DegreesOfFreedom">Uncensored − 1.</param>
/// <param name="Uncensored">Readings with a value.</param>
/// <param name="Count">Readings.</param>
public sealed record CensoredNormal(double Mean, double StandardDeviation, double MeanVariance, double DegreesOfFreedom, int Uncensored, int Count)
{
    /// <summary>Maximum likelihood by Newton's method in (μ, ln σ).</summary>
    /// <remarks>
    /// <para><b>Model.</b> z ~ N(μ, σ²); a value contributes its density, a bound the probability of its tail.</para>
    /// <para><b>Computation.</b> Newton with analytic gradient and Hessian, step halved until the likelihood rises; stops at a step below 1e-12.</para>
    /// <para><b>Limits.</b> At least 2 distinct values; use needs 3 values and half of the readings as values.</para>
    /// <para><b>Source.</b> [Cohen1959]; the factor n/(n − 1) restores the small-sample variance of an uncensored mean.</para>
    /// </remarks>
    /// <param name="z">Readings or bounds on the analysis scale.</param>
    /// <param name="bounds">What each is.</param>
    /// <exception cref="InsufficientDataException">Fewer than two distinct values, or a likelihood without a maximum.</exception>
    public static CensoredNormal Fit(ReadOnlySpan<double> z, ReadOnlySpan<Bound> bounds)
    {
        double sum = 0, low = double.PositiveInfinity, high = double.NegativeInfinity;
        int values = 0;
        for (int i = 0; i < z.Length; i++)
            if (bounds[i] == Bound.None) (sum, values, low, high) = (sum + z[i], values + 1, Math.Min(low, z[i]), Math.Max(high, z[i]));
        if (values < 2 || low >= high)
            throw new InsufficientDataException($"A censored sample needs at least 2 different values beside its bounds; got {values}.");

        double mu = sum / values, eta = Math.Log((high - low) / 2);
        Terms at = Evaluate(z, bounds, mu, eta);
        for (int step = 0; step < 200; step++)
        {
            double determinant = at.Hmm * at.Hss - at.Hms * at.Hms;
            bool convex = at.Hmm > 0 && determinant > 0;
            double dm = convex ? (at.Hss * at.Gm - at.Hms * at.Gs) / determinant : at.Gm / Math.Max(at.Hmm, 1 / Math.Exp(2 * eta));
            double ds = convex ? (at.Hmm * at.Gs - at.Hms * at.Gm) / determinant : at.Gs / values;
            double share = 1;
            Terms next = Evaluate(z, bounds, mu - dm, eta - ds);
            while (!(next.Minus <= at.Minus + 1e-12) && share > 1e-6)
            {
                share /= 2;
                next = Evaluate(z, bounds, mu - share * dm, eta - share * ds);
            }
            (mu, eta, at) = (mu - share * dm, eta - share * ds, next);
            if (Math.Abs(dm) < 1e-12 * Math.Exp(eta) && Math.Abs(ds) < 1e-12) break;
        }
        double variance = at.Hss / (at.Hmm * at.Hss - at.Hms * at.Hms);
        if (!(variance > 0 && double.IsFinite(variance) && double.IsFinite(eta)))
            throw new InsufficientDataException("The likelihood of the censored sample has no maximum: its bounds contradict its values, or leave nothing to estimate.");
        return new(mu, Math.Exp(eta), variance * z.Length / (z.Length - 1), values - 1, values, z.Length);
    }

    /// <summary>Logarithm of the upper tail and the hazard φ/Q; by their asymptotic series where the tail itself would be 0.</summary>
    private static (double LogTail, double Hazard) Tail(double v)
    {
        if (v < 30)
        {
            double tail = Normal.UpperTail(v);
            return (Math.Log(tail), Normal.Density(v) / tail);
        }
        double square = 1 / (v * v), ratio = 1 - square * (1 - 3 * square);
        return (-v * v / 2 - Math.Log(v * Math.Sqrt(2 * Math.PI)) + Math.Log(ratio), v / ratio);
    }

    private readonly record struct Terms(double Minus, double Gm, double Gs, double Hmm, double Hms, double Hss);

    /// <summary>Minus log likelihood, its gradient and Hessian in (μ, η = ln σ).</summary>
    private static Terms Evaluate(ReadOnlySpan<double> z, ReadOnlySpan<Bound> bounds, double mu, double eta)
    {
        double sigma = Math.Exp(eta), minus = 0, gm = 0, gs = 0, hmm = 0, hms = 0, hss = 0;
        for (int i = 0; i < z.Length; i++)
        {
            double u = (z[i] - mu) / sigma;
            if (bounds[i] == Bound.None)
            {
                minus += eta + u * u / 2;
                gm -= u / sigma;
                gs += 1 - u * u;
                hmm += 1 / (sigma * sigma);
                hms += 2 * u / sigma;
                hss += 2 * u * u;
                continue;
            }
            double sign = bounds[i] == Bound.Above ? 1 : -1, v = sign * u;
            (double logTail, double hazard) = Tail(v);
            double curve = hazard * (hazard - v);
            minus -= logTail;
            gm -= sign * hazard / sigma;
            gs -= hazard * v;
            hmm += curve / (sigma * sigma);
            hms += sign * (curve * v + hazard) / sigma;
            hss += v * (curve * v + hazard);
        }
        return new(minus, gm, gs, hmm, hms, hss);
    }
}
