namespace Meltwise.Statistics.Comparison;

/// <summary>How the scatter of a contrast of two lots was estimated.</summary>
public enum LotContrastKind
{
    /// <summary>Each lot's own variance within furnace loads; with one load this is Welch's test.</summary>
    OwnVariances,

    /// <summary>One residual variance of z = lot + load, because a lot has too few repeats within loads.</summary>
    CommonResidual,

    /// <summary>Several heats in a role, each heat with the same weight and its own variance.</summary>
    HeatsEqual,
}

/// <summary>Scatter of one lot or one heat, and how much of it enters the contrast.</summary>
/// <param name="Name">Lot or heat.</param>
/// <param name="IsCandidate">Which side of the contrast.</param>
/// <param name="Variance">Pooled variance of a coupon within its cell, s².</param>
/// <param name="DegreesOfFreedom">Coupons less cells.</param>
/// <param name="Unit">Factor that turns s² into the variance of this side's mean: Σ w²/n.</param>
/// <param name="Mean">Plain mean of its coupons.</param>
public readonly record struct LotScatter(string Name, bool IsCandidate, double Variance, double DegreesOfFreedom, double Unit, double Mean)
{
    private const double RoundingOfReading = 1e-13;

    /// <summary>A sum of squares about means, 0 where it is no more than the rounding of such readings: logarithms of equal readings have no scatter.</summary>
    /// <param name="squares">Sum of squares.</param>
    /// <param name="readings">The readings it is of.</param>
    public static double BeyondRounding(double squares, ReadOnlySpan<double> readings)
    {
        double largest = 0;
        foreach (double z in readings) largest = Math.Max(largest, Math.Abs(z));
        double rounding = RoundingOfReading * largest;
        return squares > readings.Length * rounding * rounding ? squares : 0;
    }

    /// <summary>Its part of the variance of the contrast.</summary>
    public VariancePart Part => new(Name, Variance * Unit, DegreesOfFreedom);
}

/// <summary>Candidate minus reference as a weighted sum of coupons.</summary>
/// <param name="Kind">How the scatter was estimated.</param>
/// <param name="Coefficients">Weight of every coupon, in the order given; 0 for a coupon whose load holds one lot only. Applying them to another reading of the same coupons gives the matching difference of that reading.</param>
/// <param name="LoadWeights">Weight of every load; empty where heats are weighted instead.</param>
/// <param name="Estimate">Σ coefficient·z.</param>
/// <param name="Scatter">One entry a lot (a heat, with several heats), candidate first; of <see cref="LotContrastKind.CommonResidual"/> one entry.</param>
public sealed record LotContrast(
    LotContrastKind Kind, IReadOnlyList<double> Coefficients, IReadOnlyList<double> LoadWeights, double Estimate, IReadOnlyList<LotScatter> Scatter)
{
    /// <summary>The same contrast of another reading of the same coupons.</summary>
    public double Apply(ReadOnlySpan<double> readings)
    {
        double sum = 0;
        for (int i = 0; i < readings.Length; i++) if (Coefficients[i] != 0) sum += Coefficients[i] * readings[i];
        return sum;
    }

    /// <summary>Σ w²/n over both sides: variance of the contrast per unit of a common coupon variance.</summary>
    public double TotalUnit => Scatter.Sum(s => s.Unit);

    /// <summary>The contrast with each lot's own variance.</summary>
    public ContrastEstimate Own => ContrastEstimate.FromParts(Estimate, [.. Scatter.Select(s => s.Part)]);

    /// <summary>The contrast with one variance pooled over the lots.</summary>
    public ContrastEstimate Pooled
    {
        get
        {
            double df = Scatter.Sum(s => s.DegreesOfFreedom);
            double variance = Scatter.Sum(s => s.DegreesOfFreedom * s.Variance) / df;
            return new(Estimate, Math.Sqrt(variance * TotalUnit), df);
        }
    }

    /// <summary>True when some scatter can be estimated at all.</summary>
    public bool HasScatter => Scatter.All(s => s.DegreesOfFreedom >= 1 && s.Variance > 0);
}
