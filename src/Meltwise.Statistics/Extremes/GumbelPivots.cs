using System.Collections.Concurrent;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Statistics.Extremes;

/// <summary>Exact intervals for a Gumbel distribution of maxima, and so for a Weibull one, from small complete samples.</summary>
/// <remarks>
/// <para><b>Formula.</b> For maximum likelihood (λ̂ - λ)/δ̂, δ̂/δ and (λ + δy - λ̂)/δ̂ have distributions that depend on n alone, not on λ and δ. Their quantiles, found once by simulation of standard
/// samples, turn into intervals that cover what they say at any n: λ + δy lies in λ̂ + δ̂·[quantiles of the third]. The logarithm of a Weibull reading, its sign turned, is Gumbel with δ = 1/shape.</para>
/// <para><b>Computation.</b> 20000 samples for each n, one fixed seed; the coverage is exact but for a Monte-Carlo error of 0.0015.</para>
/// <para><b>Limits.</b> Complete samples of 6 or more. With readings that did not fail the pivots depend on the plan of the test, and <see cref="CensoredWeibullLimits"/> is used instead.</para>
/// <para><b>Source.</b> [Lawless2003], 5.1; [ThomanBainAntle1969].</para>
/// </remarks>
public static class GumbelPivots
{
    private const int Samples = 20_000, Seed = 1;
    private static readonly ConcurrentDictionary<int, (double Location, double Scale)[]> s_standard = [];
    private static readonly ConcurrentDictionary<(int Areas, double Y), double[]> s_levels = [];
    private static readonly ConcurrentDictionary<int, double[]> s_scales = [];

    /// <summary>Interval of the level λ + δy that a standard Gumbel variable reaches at y; y = 0 is the location.</summary>
    public static (double Lower, double Upper) Level(double location, double scale, int n, double y, double level)
    {
        (double low, double high) = Limits(s_levels.GetOrAdd((n, y), key => [.. Standard(key.Areas).Select(s => (key.Y - s.Location) / s.Scale).Order()]), level);
        return (location + scale * low, location + scale * high);
    }

    /// <summary>Interval of δ.</summary>
    public static (double Lower, double Upper) Scale(double scale, int n, double level)
    {
        (double low, double high) = Limits(s_scales.GetOrAdd(n, key => [.. Standard(key).Select(s => 1 / s.Scale).Order()]), level);
        return (scale * low, scale * high);
    }

    private static (double Location, double Scale)[] Standard(int n) => s_standard.GetOrAdd(n, size =>
    {
        (double, double)[] fits = new (double, double)[Samples];
        Parallel.For(0, Samples / 500, block =>
        {
            RandomStream random = new(Seed, block);
            double[] x = new double[size];
            for (int i = block * 500; i < (block + 1) * 500; i++)
            {
                for (int k = 0; k < size; k++) x[k] = -Math.Log(-Math.Log(random.Uniform()));
                GumbelFit fit = GumbelLargest.Fit(x);
                fits[i] = (fit.Location, fit.Scale);
            }
        });
        return fits;
    });

    private static (double, double) Limits(double[] pivot, double level)
    {
        int left = (int)Math.Round((1 - level) / 2 * pivot.Length);
        return (pivot[left], pivot[^(left + 1)]);
    }
}
