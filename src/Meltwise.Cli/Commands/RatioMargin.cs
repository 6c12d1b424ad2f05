using Meltwise.Casework.Asking;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>A margin of ratios for quantities that have no table of properties behind them.</summary>
internal static class RatioMargin
{
    private const double UsualLow = 0.8, UsualHigh = 1.25;

    /// <summary>The limits of the ratio; the usual ones when nothing is typed.</summary>
    public static (double Low, double High) Read(string? text)
    {
        if (text is null) return (UsualLow, UsualHigh);
        Property ratio = new("a quantity of pictures", PropertyScale.Logarithmic, GoodDirection.None, [new("-", 1)], 0, double.MaxValue);
        if (MarginText.TryRead(text, ratio, out Margin? margin, out string fault) && margin is Margin.Ratio r) return (r.Low, r.High);
        throw Fault.Usage($"--margin: {(fault.Length > 0 ? fault : $"\"{text}\" is no ratio")} Pictures are compared by ratio: 25% or 0.80..1.25.");
    }
}
