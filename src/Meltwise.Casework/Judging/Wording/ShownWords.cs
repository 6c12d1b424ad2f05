using static System.FormattableString;

namespace Meltwise.Casework.Judging;

/// <summary>The line for what is shown beside the verdict and not counted.</summary>
internal static class ShownWords
{
    public static string Of(SourcesPosterior p) =>
        Invariant($"Beside it, not counted: under weak priors the ratio is {p.Ratio.Estimate:0.000} ({p.Ratio.Lower:0.000} to {p.Ratio.Upper:0.000}, 95 % posterior), ")
        + $"inside the margin with probability {Probability(p.InsideMargin)}, below it {Probability(p.BelowMargin)}, above it {Probability(p.AboveMargin)}; "
        + Invariant($"heat-to-heat scatter of the logarithms {p.HeatToHeatSd:0.000} ({p.HeatToHeatSdInterval.Lower:0.000} to {p.HeatToHeatSdInterval.Upper:0.000}), half-normal prior of scale {p.PriorScale:0.00} (Gelman 2006). The data are the same, so it is no second witness.");

    private static string Probability(double p) => p < 0.001 ? "below 0.001" : p > 0.999 ? "above 0.999" : Invariant($"{p:0.000}");
}
