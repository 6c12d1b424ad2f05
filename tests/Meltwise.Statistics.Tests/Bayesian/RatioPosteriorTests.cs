using Meltwise.Statistics.Bayesian;
using Meltwise.Statistics.Distributions;
using Xunit;

namespace Meltwise.Statistics.Tests.Bayesian;

public sealed class RatioPosteriorTests
{
    // Against direct simulation of the same posterior: two scaled t variables, a million draws; three Monte-Carlo errors (0.0015).
    [Fact]
    public void Agrees_with_simulation_of_the_same_posterior()
    {
        double[] a = [4.285, 4.251, 4.12, 4.04, 4.093], b = [3.89, 4.104, 3.908];
        RatioPosterior posterior = new(a, b);
        Statistics.Resampling.RandomStream random = new(5, 0);
        int below = 0;
        const int Draws = 1_000_000;
        (double ma, double sa) = Summary(a);
        (double mb, double sb) = Summary(b);
        for (int i = 0; i < Draws; i++)
        {
            double first = ma + sa * random.Normal() / Math.Sqrt(random.ChiSquared(4) / 4), second = mb + sb * random.Normal() / Math.Sqrt(random.ChiSquared(2) / 2);
            if (first - second <= 0.1) below++;
        }
        Assert.Equal(below / (double)Draws, posterior.Cdf(0.1), 0.0015);
    }

    // Where one lot has no scatter to speak of, the posterior is the other's t: a limit with an exact answer.
    [Fact]
    public void A_lot_without_scatter_leaves_the_t_of_the_other()
    {
        double[] a = [1, 2, 3, 4], b = [0, 1e-9, -1e-9];
        (double m, double s) = Summary(a);
        Assert.Equal(StudentT.Cdf((2 - m) / s, 3), new RatioPosterior(a, b).Cdf(2), 1e-6);
    }

    [Fact]
    public void The_interval_holds_its_probability()
    {
        RatioPosterior posterior = new([1.1, 0.9, 1.3, 1.0], [0.8, 1.2, 0.7]);
        (double lower, double upper) = posterior.Interval(0.95);
        Assert.Equal(0.95, posterior.Inside(lower, upper), 1e-7);
    }

    private static (double Mean, double Error) Summary(double[] y)
    {
        double mean = y.Average();
        return (mean, Math.Sqrt(y.Sum(v => (v - mean) * (v - mean)) / (y.Length - 1) / y.Length));
    }
}
