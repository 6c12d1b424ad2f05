using static System.FormattableString;

namespace Meltwise.Casework.Judging;

/// <summary>The lines for what is shown beside the verdict and not counted.</summary>
internal static class ShownWords
{
    public static string Of(SourcesPosterior p) =>
        Invariant($"Beside it, not counted: under weak priors the ratio is {p.Ratio.Estimate:0.000} ({p.Ratio.Lower:0.000} to {p.Ratio.Upper:0.000}, 95 % posterior), ")
        + $"inside the margin with probability {Probability(p.InsideMargin)}, below it {Probability(p.BelowMargin)}, above it {Probability(p.AboveMargin)}; "
        + Invariant($"heat-to-heat scatter of the logarithms {p.HeatToHeatSd:0.000} ({p.HeatToHeatSdInterval.Lower:0.000} to {p.HeatToHeatSdInterval.Upper:0.000}), half-normal prior of scale {p.PriorScale:0.00} (Gelman 2006). The data are the same, so it is no second witness.");

    /// <summary>The bootstrap intervals and the posterior of the lots as tested, each interval with the coverage it truly has.</summary>
    /// <param name="shown">What is shown.</param>
    /// <param name="coupons">Coupons of the smaller lot.</param>
    public static string Of(ShownOnly shown, int coupons)
    {
        BootstrapCoverage.Row row = BootstrapCoverage.Of(coupons);
        string studentized = shown.Studentized is { } s ? Invariant($"studentized {s.Lower:0.000} to {s.Upper:0.000} (a 95 % one covers {Share(row.StudentizedLow, row.StudentizedHigh)} by simulation with lots of {row.Coupons}), ") : "";
        return Invariant($"Beside it, not counted, as tested: bootstrap of the ratio, {studentized}BCa {shown.Bca!.Lower:0.000} to {shown.Bca.Upper:0.000} ({(studentized.Length == 0 ? "a 95 % one covers " : "")}{Share(row.BcaLow, row.BcaHigh)}: too narrow{(studentized.Length == 0 ? Invariant($", by simulation with lots of {row.Coupons}") : "")}); ")
            + $"inside the margin with probability {Probability(shown.PosteriorInsideMargin!.Value)} under weak priors, which repeats Welch and is no second witness.";
    }

    private static string Share(double low, double high) => low.Equals(high) ? Invariant($"{100 * low:0} %") : Invariant($"{100 * low:0} to {100 * high:0} %");

    private static string Probability(double p) => p < 0.001 ? "below 0.001" : p > 0.999 ? "above 0.999" : Invariant($"{p:0.000}");
}
