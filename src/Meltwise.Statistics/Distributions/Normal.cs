using MathNet.Numerics;

namespace Meltwise.Statistics.Distributions;

/// <summary>The standard normal distribution; tails by the complementary error function of the numerics library.</summary>
public static class Normal
{
    /// <summary>P(Z ≤ z).</summary>
    public static double Cdf(double z) => 0.5 * SpecialFunctions.Erfc(-z / Constants.Sqrt2);

    /// <summary>P(Z &gt; z), accurate also where it is far below 1e-16.</summary>
    public static double UpperTail(double z) => 0.5 * SpecialFunctions.Erfc(z / Constants.Sqrt2);

    /// <summary>Density at z.</summary>
    public static double Density(double z) => Constants.InvSqrt2Pi * Math.Exp(-0.5 * z * z);

    /// <summary>The z with P(Z ≤ z) = p, for 0 &lt; p &lt; 1.</summary>
    /// <exception cref="ArgumentOutOfRangeException">p is not above 0 and below 1.</exception>
    public static double Quantile(double p)
    {
        if (p is <= 0 or >= 1 || double.IsNaN(p))
            throw new ArgumentOutOfRangeException(nameof(p), p, "A quantile needs a probability above 0 and below 1.");
        double z = MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, p);

        // One Newton step on the logarithm of the smaller tail: the library's value has 1e-9 left in the far tails.
        double tail = z < 0 ? Cdf(z) : UpperTail(z), wanted = z < 0 ? p : 1 - p;
        double step = Math.Log(tail / wanted) * tail / Density(z);
        return z < 0 ? z - step : z + step;
    }
}
