using Meltwise.Casework.Judging;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Casework.Planning;

/// <summary>The decision table applied to one simulated estimate: the same rows, in the same order, as the verdict.</summary>
internal sealed class SimulatedRule(double low, double high, double alpha, bool? higherIsBetter)
{
    private readonly TQuantileCurve _narrow = new(1 - alpha), _wide = new(1 - alpha / 2);
    private readonly Outcome _above = higherIsBetter switch { true => Outcome.Better, false => Outcome.Worse, null => Outcome.Higher };
    private readonly Outcome _below = higherIsBetter switch { true => Outcome.Worse, false => Outcome.Better, null => Outcome.Lower };

    /// <summary>Half widths of the narrow and the wide interval.</summary>
    public (double Narrow, double Wide) HalfWidths(double variance, double degreesOfFreedom)
    {
        double error = Math.Sqrt(variance), nu = Math.Max(1, degreesOfFreedom);
        return (_narrow.At(nu) * error, _wide.At(nu) * error);
    }

    /// <summary>The outcome; limits are on the analysis scale, no difference is 0, and touching a limit is no claim.</summary>
    public Outcome Of(double estimate, double narrow, double wide)
    {
        bool inside = estimate - narrow > low && estimate + narrow < high;
        bool excludes = estimate - wide > 0 || estimate + wide < 0;
        if (inside) return excludes ? Outcome.EquivalentDetectable : Outcome.Equivalent;
        if (estimate - wide > high) return _above;
        if (estimate + wide < low) return _below;
        return excludes ? Outcome.DifferentOpen : Outcome.Inconclusive;
    }
}
