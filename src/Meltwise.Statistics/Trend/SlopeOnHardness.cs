namespace Meltwise.Statistics.Trend;

/// <summary>A slope that lots and heats are brought to equal hardness with.</summary>
/// <param name="Slope">b per HRC; with a bend, the tangent at <see cref="SlopeBend.AtHrc"/>.</param>
/// <param name="StandardError">SE(b).</param>
/// <param name="DegreesOfFreedom">ν of b.</param>
/// <param name="Bend">How the slope changes with hardness; null for a straight line.</param>
public readonly record struct SlopeOnHardness(double Slope, double StandardError, double DegreesOfFreedom, SlopeBend? Bend = null)
{
    /// <summary>By how much the property is expected to differ at a hardness from what it is at another, analysis scale; the other is <see cref="SlopeBend.AtHrc"/> where there is a bend.</summary>
    public double Change(double hrc, double from) => Slope * (hrc - from) + (Bend is { } bend ? bend.PerHrcSquared * (hrc - from) * (hrc - from) : 0);

    /// <summary>Variance of b·D + c·D₂ for a contrast D of hardness and D₂ of its square about <see cref="SlopeBend.AtHrc"/>.</summary>
    public double Variance(double hardness, double squares) =>
        hardness * hardness * StandardError * StandardError + (Bend is { } bend ? 2 * hardness * squares * bend.CovarianceWithSlope + squares * squares * bend.Variance : 0);
}

/// <summary>The quadratic term of a trend about a hardness.</summary>
/// <param name="AtHrc">The hardness.</param>
/// <param name="PerHrcSquared">c, per HRC².</param>
/// <param name="Variance">Its variance.</param>
/// <param name="CovarianceWithSlope">Its covariance with the tangent there.</param>
public sealed record SlopeBend(double AtHrc, double PerHrcSquared, double Variance, double CovarianceWithSlope);
