using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Trend;

/// <summary>Coupons of one heat and one treatment.</summary>
/// <param name="Count">Coupons with the property.</param>
/// <param name="Mean">Mean of z.</param>
/// <param name="SquaresWithin">Σ(z − mean)².</param>
/// <param name="MeanHardness">Mean coupon hardness, HRC.</param>
/// <param name="Readings">z of the coupons, needed only where heats were tested at several treatments.</param>
public readonly record struct TrendGroup(int Count, double Mean, double SquaresWithin, double MeanHardness, IReadOnlyList<double>? Readings = null);

/// <summary>A heat of the history.</summary>
/// <param name="Source">Its source, 0 to count − 1.</param>
/// <param name="MeanHardness">Mean of its coupon hardness, HRC.</param>
/// <param name="HardnessCount">Coupons that hardness was read on.</param>
/// <param name="Groups">Its coupons by treatment; one group as a rule.</param>
public sealed record TrendHeat(int Source, double MeanHardness, int HardnessCount, IReadOnlyList<TrendGroup> Groups)
{
    /// <summary>Coupons with the property.</summary>
    public int Count { get; } = Groups.Sum(g => g.Count);

    /// <summary>Mean of z over its coupons.</summary>
    public double Mean { get; } = Groups.Sum(g => g.Count * g.Mean) / Groups.Sum(g => g.Count);
}

/// <summary>What is known of the error of a hardness reading.</summary>
/// <param name="WithinHeatVariance">Pooled variance of coupon hardness within a heat, HRC².</param>
/// <param name="DegreesOfFreedom">Its degrees of freedom.</param>
/// <param name="SessionSd">Between-session standard deviation, HRC; 0 when unknown.</param>
public readonly record struct HardnessError(double WithinHeatVariance, double DegreesOfFreedom, double SessionSd);

/// <summary>The slope of a property against hardness between heats of a source, corrected for error in hardness.</summary>
/// <remarks>
/// <para><b>Model.</b> z = α_source + b·x_h + u_h + e, x_h the heat mean of coupon hardness, u ~ N(0, τ²), e ~ N(0, σ²), by restricted maximum likelihood. Where heats were tested at several treatments,
/// the deviation of a treatment's hardness from the heat mean is a second covariate, so that b stays the slope between heats; with 6 such heats or more, heat × treatment is a variance of its own, ω².</para>
/// <para><b>Error in hardness.</b> u_h² = s_H²/n_h + u_s²; w = 1/(τ² + ω²Σ(n_g/n_h)² + σ²/n_h), W = Σw in the source, S_xx = 1/SE²(b_REML); reliability λ = 1 − Σw·u²(1 − w/W)/S_xx; b = b_REML/λ;
/// SE² = SE²(b_REML)/λ² + b²·Σw²u⁴/(λS_xx)².</para>
/// <para><b>Limits.</b> Degrees of freedom m − S − 1 for m heats of S sources; below 6 one intercept is used, and below 6 again there is no trend. Not to be used with λ below 0.5. A straight line; where that may mislead, <see cref="Bent"/>.</para>
/// <para><b>Source.</b> [Fuller1987], known error variance.</para>
/// </remarks>
public sealed record HeatTrend
{
    /// <summary>Fewest degrees of freedom.</summary>
    public const int FewestDf = 6;

    /// <summary>Heats m.</summary>
    public required int Heats { get; init; }

    /// <summary>Sources with an intercept of their own S.</summary>
    public required int Sources { get; init; }

    /// <summary>m − S − 1.</summary>
    public int DegreesOfFreedom => Heats - Sources - 1;

    /// <summary>Mean hardness of the heats, HRC, lowest first.</summary>
    public required IReadOnlyList<double> HeatsHrc { get; init; }

    /// <summary>Coupons of a usual group of one heat and treatment: the median.</summary>
    public required int TypicalCoupons { get; init; }

    /// <summary>Lowest heat mean of hardness, HRC.</summary>
    public double LowestHrc => HeatsHrc[0];

    /// <summary>Highest heat mean of hardness, HRC.</summary>
    public double HighestHrc => HeatsHrc[^1];

    /// <summary>b before correction.</summary>
    public required double SlopeUncorrected { get; init; }

    /// <summary>Its standard error.</summary>
    public required double SlopeUncorrectedSe { get; init; }

    /// <summary>λ.</summary>
    public required double Attenuation { get; init; }

    /// <summary>b.</summary>
    public double Slope => SlopeUncorrected / Attenuation;

    /// <summary>SE(b).</summary>
    public required double SlopeSe { get; init; }

    /// <summary>τ².</summary>
    public required double HeatVariance { get; init; }

    /// <summary>ω², the variance of heat × treatment; null where it is not in the model.</summary>
    public double? TreatmentVariance { get; init; }

    /// <summary>σ².</summary>
    public required double ResidualVariance { get; init; }

    /// <summary>Mean hardness of the heats, weighted by w.</summary>
    public required double Centre { get; init; }

    /// <summary>Mean of z of the heats, weighted by w.</summary>
    public required double Level { get; init; }

    /// <summary>Σw.</summary>
    public required double Weight { get; init; }

    /// <summary>The trend with a quadratic term; null where too few heats are left for it.</summary>
    public BentTrend? Bent { get; init; }

    /// <summary>Quadratic term in hardness per HRC² and its standard error, uncorrected for error in hardness, when one can be fitted; not used in the slope.</summary>
    public (double Estimate, double StandardError)? Curvature { get; init; }

    /// <summary>t of the quadratic term.</summary>
    public double? CurvatureT => Curvature is { } c ? c.Estimate / c.StandardError : null;

    /// <summary>By how much the contrast at equal hardness would move, analysis scale, were the trend bent as far as the 95 % limits of its quadratic term allow.</summary>
    /// <param name="middle">Mean hardness of the two lots, HRC.</param>
    /// <param name="difference">Their difference, HRC.</param>
    public double? LargestShiftByCurvature(double middle, double difference) => Curvature is { } c && DegreesOfFreedom > 1
        ? 2 * Math.Abs((middle - Centre) * difference) * (Math.Abs(c.Estimate) + StudentT.Quantile(0.975, DegreesOfFreedom - 1) * c.StandardError)
        : null;

    /// <summary>The range of hardness that holds the middle third of the heats, HRC.</summary>
    public (double Low, double High) MiddleThird => (Quantile(1.0 / 3), Quantile(2.0 / 3));

    private double Quantile(double p)
    {
        double at = p * (HeatsHrc.Count - 1);
        int below = Math.Min((int)at, HeatsHrc.Count - 2);
        return HeatsHrc[below] + (at - below) * (HeatsHrc[below + 1] - HeatsHrc[below]);
    }

    /// <summary>Two-sided interval of b.</summary>
    public (double Lower, double Upper) SlopeInterval(double level)
    {
        double half = StudentT.Quantile(0.5 + level / 2, DegreesOfFreedom) * SlopeSe;
        return (Slope - half, Slope + half);
    }

    /// <summary>The trend at a hardness, analysis scale.</summary>
    public double At(double hrc) => Level + Slope * (hrc - Centre);

    /// <summary>Variance of a lot's offset from the trend as a prediction: V = s²/n + 1/Σw + (H − x̄)²SE² + b²s_H²/n + τ².</summary>
    public double PredictionVariance(double lotVariance, int coupons, double hrc, double hardnessVariance) =>
        lotVariance / coupons + 1 / Weight + (hrc - Centre) * (hrc - Centre) * SlopeSe * SlopeSe + Slope * Slope * hardnessVariance / coupons + HeatVariance;

    /// <summary>Fits the trend, or gives null when there are too few heats or hardness does not vary.</summary>
    /// <param name="heats">Heats of the history.</param>
    /// <param name="sources">Number of sources; 1 leaves sources out of the trend.</param>
    /// <param name="error">Error of hardness.</param>
    public static HeatTrend? Fit(IReadOnlyList<TrendHeat> heats, int sources, HardnessError error) => TrendModel.Fit(heats, sources)?.Corrected(error);
}
