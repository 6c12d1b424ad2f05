using MathNet.Numerics;

namespace Meltwise.Statistics.Distributions;

/// <summary>Mixes a probability over the estimated standard deviation: s = √(χ²_ν/ν), the step from a known to an estimated scatter.</summary>
internal static class ChiRoot
{
    /// <summary>E[tail(s)] over s = √(χ²_ν/ν); tail must be positive and smooth in s. Infinite ν gives tail(1).</summary>
    public static double Mix(double degreesOfFreedom, Func<double, double> tail)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(degreesOfFreedom);
        if (double.IsPositiveInfinity(degreesOfFreedom)) return tail(1);
        double front = LogDensityConstant(degreesOfFreedom);
        double Log(double u)
        {
            double s = Math.Exp(u);
            return front + degreesOfFreedom * (u - 0.5 * (s * s - 1)) + Math.Log(Math.Max(tail(s), 1e-305));
        }
        return PeakedIntegral.Between(Log, -6, 2);
    }

    /// <summary>ln of the density of u = ln s at u = 0.</summary>
    public static double LogDensityConstant(double degreesOfFreedom) =>
        0.5 * Math.Log(degreesOfFreedom / Constants.Pi) - SaddlePointTerms.StirlingError(degreesOfFreedom / 2);
}
