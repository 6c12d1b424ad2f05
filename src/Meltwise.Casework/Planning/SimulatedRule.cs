using Meltwise.Casework.Judging;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Casework.Planning;

/// <summary>The verdict's decision table applied to simulated estimates.</summary>
internal sealed class SimulatedRule(double low, double high, double alpha, bool? higherIsBetter)
{
    private readonly TQuantileCurve _narrow = new(1 - alpha), _wide = new(1 - alpha / 2);

    /// <summary>Half widths of the narrow and the wide interval.</summary>
    public (double Narrow, double Wide) HalfWidths(double variance, double degreesOfFreedom)
    {
        double error = Math.Sqrt(variance), nu = Math.Max(1, degreesOfFreedom);
        return (_narrow.At(nu) * error, _wide.At(nu) * error);
    }

    /// <summary>The outcome; limits are on the analysis scale, where no difference is 0.</summary>
    public Outcome Of(double estimate, double narrow, double wide) =>
        DecisionTable.Decide((estimate - wide, estimate + wide), (estimate - narrow, estimate + narrow), (low, high), higherIsBetter);
}
