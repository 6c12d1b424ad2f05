using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>Trend: level + slope·(H − centre) on the analysis scale, and with a bend + c·((H − centre)² − mean square); what its bands need.</summary>
/// <param name="CentreHrc">Weighted mean hardness of the heats.</param>
/// <param name="Level">Weighted mean of the heats on the analysis scale.</param>
/// <param name="LevelVariance">Variance of the level.</param>
/// <param name="Slope">Slope per HRC.</param>
/// <param name="SlopeSe">Its standard error.</param>
/// <param name="HeatVariance">Heat-to-heat variance.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the bands.</param>
/// <param name="Bend">How it bends; null for a straight line.</param>
/// <param name="Group">Scatter of a group of coupons within its heat; null where it is not known.</param>
public sealed record TrendLine(
    double CentreHrc, double Level, double LevelVariance, double Slope, double SlopeSe, double HeatVariance, double DegreesOfFreedom, BendOfLine? Bend = null, ScatterOfGroup? Group = null)
{
    /// <summary>The line or curve to draw.</summary>
    internal static TrendLine Of(HeatTrend line, bool bent)
    {
        double residual = bent && line.Bent is { } curve ? curve.ResidualVariance : line.ResidualVariance;
        ScatterOfGroup group = new(line.TypicalCoupons, (line.TreatmentVariance ?? 0) + residual / line.TypicalCoupons);
        return bent && line.Bent is { } b
            ? new(b.Centre, b.Level, 1 / b.Weight, b.AtCentre.Slope, b.AtCentre.StandardError, b.HeatVariance, b.DegreesOfFreedom, new(b.AtCentre.Bend!.PerHrcSquared, b.MeanSquare, b.AtCentre.Bend.Variance, b.AtCentre.Bend.CovarianceWithSlope), group)
            : new(line.Centre, line.Level, 1 / line.Weight, line.Slope, line.SlopeSe, line.HeatVariance, line.DegreesOfFreedom, null, group);
    }

    /// <summary>Variance of the mean of the next group of coupons of a heat not tested before, at a hardness.</summary>
    public double VarianceOfNext(double hrc) => VarianceAt(hrc) + HeatVariance + (Group?.Variance ?? 0);

    /// <summary>Its height at a hardness, analysis scale.</summary>
    public double At(double hrc) => Level + Slope * (hrc - CentreHrc) + (Bend is { } b ? b.PerHrcSquared * b.Square(hrc - CentreHrc) : 0);

    /// <summary>Variance of its height at a hardness.</summary>
    public double VarianceAt(double hrc)
    {
        double x = hrc - CentreHrc, straight = LevelVariance + x * x * SlopeSe * SlopeSe;
        return Bend is { } b ? straight + b.Square(x) * (2 * x * b.CovarianceWithSlope + b.Square(x) * b.Variance) : straight;
    }
}

/// <summary>How the mean of a usual group of coupons, of one heat and treatment, scatters about its heat.</summary>
/// <param name="Coupons">Coupons of a usual group: the median of the history.</param>
/// <param name="Variance">Heat × treatment, where it is a variance of its own, and the coupons' share.</param>
public sealed record ScatterOfGroup(int Coupons, double Variance);

/// <summary>The quadratic term of a trend.</summary>
/// <param name="PerHrcSquared">c, per HRC².</param>
/// <param name="MeanSquare">Mean square of the heats' hardness about the centre, HRC²: the curve has the height of the level where (H − centre)² equals it.</param>
/// <param name="Variance">Variance of c.</param>
/// <param name="CovarianceWithSlope">Covariance of c with the slope at the centre.</param>
public sealed record BendOfLine(double PerHrcSquared, double MeanSquare, double Variance, double CovarianceWithSlope)
{
    internal double Square(double fromCentre) => fromCentre * fromCentre - MeanSquare;
}
