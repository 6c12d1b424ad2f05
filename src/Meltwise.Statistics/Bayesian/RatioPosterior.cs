using MathNet.Numerics.RootFinding;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Bayesian;

/// <summary>Posterior of the difference of two means under weak priors: a cross-check of the verdict, never counted in it.</summary>
/// <remarks>
/// <para><b>Model.</b> Normal readings, each lot its own mean and variance, priors flat in the means and in ln σ. Then each mean is
/// ȳ + s/√n·T(n - 1), independently, and the difference has the Behrens-Fisher distribution.</para>
/// <para><b>Computation.</b> Convolution of the two t densities by trapezoidal quadrature in T = sinh(u), which turns their power tails into exponential ones.</para>
/// <para><b>Limits.</b> At least 3 readings a lot. Numbers come close to Welch's and are no second witness: the data are the same.</para>
/// <para><b>Source.</b> [BoxTiao1973], 2.5.</para>
/// </remarks>
public sealed class RatioPosterior
{
    private const double Step = 0.02, End = 14;
    private readonly (double Mean, double Scale, double Df) _first, _second;

    /// <summary>The posterior of mean(first) - mean(second); give logarithms for a ratio.</summary>
    public RatioPosterior(IReadOnlyList<double> first, IReadOnlyList<double> second)
    {
        _first = Summary(first);
        _second = Summary(second);
    }

    /// <summary>Posterior probability that the difference is at or below a value.</summary>
    public double Cdf(double value)
    {
        // The narrower mean is integrated over, so that the other's tail changes slowly along the way.
        bool swap = _second.Scale < _first.Scale;
        (double mean, double scale, double df) = swap ? _second : _first;
        (double otherMean, double otherScale, double otherDf) = swap ? _first : _second;
        double sum = 0;
        for (double u = -End; u <= End; u += Step)
        {
            double t = Math.Sinh(u), at = mean + scale * t;
            double tail = swap ? StudentT.Cdf((at + value - otherMean) / otherScale, otherDf) : StudentT.UpperTail((at - value - otherMean) / otherScale, otherDf);
            sum += StudentT.Density(t, df) * Math.Cosh(u) * tail;
        }
        return sum * Step;
    }

    /// <summary>Posterior probability that the difference lies inside the limits.</summary>
    public double Inside(double low, double high) => Cdf(high) - Cdf(low);

    /// <summary>Interval with equal tails.</summary>
    public (double Lower, double Upper) Interval(double level)
    {
        double centre = _first.Mean - _second.Mean, width = Math.Sqrt(_first.Scale * _first.Scale + _second.Scale * _second.Scale);
        double Quantile(double p)
        {
            double reach = 4 * width;
            while (Cdf(centre - reach) > p || Cdf(centre + reach) < p) reach *= 2;
            return Brent.FindRoot(v => Cdf(v) - p, centre - reach, centre + reach, 1e-10 * width, 200);
        }
        return (Quantile(0.5 - level / 2), Quantile(0.5 + level / 2));
    }

    private static (double, double, double) Summary(IReadOnlyList<double> y)
    {
        ArgumentNullException.ThrowIfNull(y);
        if (y.Count < 3) throw new InsufficientDataException($"The posterior of a mean needs at least 3 readings; got {y.Count}.");
        double mean = y.Average(), variance = y.Sum(v => (v - mean) * (v - mean)) / (y.Count - 1);
        if (variance == 0) throw new InsufficientDataException("All readings are equal, so they show no scatter.");
        return (mean, Math.Sqrt(variance / y.Count), y.Count - 1);
    }
}
