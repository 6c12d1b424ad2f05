namespace Meltwise.Casework.Judging;

/// <summary>How often 95 % bootstrap intervals of a ratio truly hold, by simulation: bench/results/calibrate-two-lots.md, the extremes over the designs whose smaller lot has so many coupons, rounded to hundredths.</summary>
internal static class BootstrapCoverage
{
    /// <summary>By the smaller lot, in rising order.</summary>
    internal static IReadOnlyList<Row> Known { get; } =
    [
        new(3, 0.79, 0.81, 0.98, 0.98),
        new(5, 0.87, 0.90, 0.94, 0.96),
        new(6, 0.89, 0.90, 0.95, 0.96),
        new(9, 0.90, 0.91, 0.94, 0.95),
        new(15, 0.93, 0.93, 0.95, 0.95),
    ];

    /// <summary>The row of the nearest number of coupons that is not above.</summary>
    /// <param name="coupons">Coupons of the smaller lot, at least 3.</param>
    public static Row Of(int coupons) => Known.Last(r => r.Coupons <= Math.Max(coupons, Known[0].Coupons));

    /// <summary>Coverage with a number of coupons.</summary>
    /// <param name="Coupons">Coupons of the smaller lot.</param>
    /// <param name="BcaLow">Least coverage of the BCa interval.</param>
    /// <param name="BcaHigh">Largest.</param>
    /// <param name="StudentizedLow">Least coverage of the studentized interval.</param>
    /// <param name="StudentizedHigh">Largest.</param>
    internal sealed record Row(int Coupons, double BcaLow, double BcaHigh, double StudentizedLow, double StudentizedHigh);
}
