namespace Meltwise.Statistics.Trend;

/// <summary>The trend against hardness with a quadratic term: what takes the place of the straight line where that may mislead.</summary>
/// <remarks>
/// <para><b>Model.</b> As <see cref="HeatTrend"/>, with c·(x_h − x̄)² more, x̄ the centre of the heats. Two lots about the hardness M then differ by (b + 2c(M − x̄))·ΔH, exactly: the tangent at M.</para>
/// <para><b>Error in hardness.</b> Hardness read with error shrinks the linear term by λ and the quadratic one by λ² where the heats' true hardness is normal about the sources' means
/// (regression calibration: E[x | read] = x̄ + λ(read − x̄)); so b = b_REML/λ, c = c_REML/λ², λ that of the straight line. Var(λ) = Σw²u⁴/S_xx² enters both.</para>
/// <para><b>When.</b> <see cref="Serves"/>: the lots' middle lies outside the middle third of the heats, or the quadratic term lowers Akaike's criterion (t² &gt; 2). Both signs are needed: a bend too small to be seen misleads lots far off, and lots nearer to the middle are misled by a bend that is seen.
/// Neither is a test of significance: where the trend is straight, the tangent is right too and only wider.</para>
/// <para><b>Limits.</b> Degrees of freedom m − S − 2, at least 6. Skewed hardness of the heats leaves some of the error in c; a bend of higher order is not seen.</para>
/// <para><b>Source.</b> [Fuller1987] 3.1 and [CarrollEtAl2006] 4.1 for the correction; [Akaike1974]. The choice between line and bend is this program's own; its error rates are in bench/results/calibrate-equal-hardness.md.</para>
/// </remarks>
public sealed record BentTrend
{
    private const double AkaikeGain = 2;

    /// <summary>m − S − 2.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>x̄, weighted mean hardness of the heats, HRC.</summary>
    public required double Centre { get; init; }

    /// <summary>Weighted mean of z of the heats.</summary>
    public required double Level { get; init; }

    /// <summary>Weighted mean of (x − x̄)² of the true hardness, HRC²: where the curve has the height <see cref="Level"/>.</summary>
    public required double MeanSquare { get; init; }

    /// <summary>Σw.</summary>
    public required double Weight { get; init; }

    /// <summary>b, the tangent at the centre, with the quadratic term about it.</summary>
    public required SlopeOnHardness AtCentre { get; init; }

    /// <summary>τ².</summary>
    public required double HeatVariance { get; init; }

    /// <summary>σ².</summary>
    public required double ResidualVariance { get; init; }

    /// <summary>True when lots about this hardness are better compared along the curve than along the straight line.</summary>
    /// <param name="line">The straight line through the same heats.</param>
    /// <param name="middleHrc">Mean hardness of the lots.</param>
    public static bool Serves(HeatTrend line, double middleHrc)
    {
        ArgumentNullException.ThrowIfNull(line);
        return line.Bent is not null && (line.CurvatureT is { } t && t * t > AkaikeGain || IsFarOff(line, middleHrc));
    }

    /// <summary>True when a hardness lies outside the middle third of the heats.</summary>
    public static bool IsFarOff(HeatTrend line, double hrc)
    {
        ArgumentNullException.ThrowIfNull(line);
        return hrc < line.MiddleThird.Low || hrc > line.MiddleThird.High;
    }

    /// <summary>The trend at a hardness, analysis scale.</summary>
    public double At(double hrc) => Level + AtCentre.Change(hrc, Centre) - Bend.PerHrcSquared * MeanSquare;

    /// <summary>Variance of the trend at a hardness.</summary>
    public double VarianceAt(double hrc) => 1 / Weight + AtCentre.Variance(hrc - Centre, (hrc - Centre) * (hrc - Centre) - MeanSquare);

    /// <summary>The slope for lots about a hardness, with the bend about it.</summary>
    public SlopeOnHardness TangentAt(double hrc)
    {
        double twice = 2 * (hrc - Centre);
        return new(AtCentre.Slope + twice * Bend.PerHrcSquared, Math.Sqrt(AtCentre.Variance(1, twice)), DegreesOfFreedom,
            Bend with { AtHrc = hrc, CovarianceWithSlope = Bend.CovarianceWithSlope + twice * Bend.Variance });
    }

    /// <summary>Variance of a lot's offset from the trend as a prediction, as <see cref="HeatTrend.PredictionVariance"/> with the tangent in place of the slope.</summary>
    public double PredictionVariance(double lotVariance, int coupons, double hrc, double hardnessVariance)
    {
        double tangent = TangentAt(hrc).Slope;
        return lotVariance / coupons + VarianceAt(hrc) + tangent * tangent * hardnessVariance / coupons + HeatVariance;
    }

    private SlopeBend Bend => AtCentre.Bend!;
}
