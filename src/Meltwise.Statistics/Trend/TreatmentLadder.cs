using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Trend;

/// <summary>The slope of a property against hardness between treatments of the same heat: what tuning the treatment would change.</summary>
/// <remarks>
/// <para><b>Model.</b> z̄ of a treatment = heat + b·(mean hardness of the treatment) + e, heat fixed, weights n.</para>
/// <para><b>Formula.</b> b = ΣnXZ/ΣnX² with deviations from the heat's means; σ² from the residuals on G − m − 1 for G treatments of m heats.</para>
/// <para><b>Limits.</b> A ladder worth the name has 3 levels over 2 HRC in 3 heats; see <see cref="IsLadder"/>. A scatter of treatments about the line beyond the coupons' own is in σ².</para>
/// <para><b>Source.</b> [SearleCasellaMcCulloch1992], within-class regression.</para>
/// </remarks>
/// <param name="Slope">b per HRC, analysis scale.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="DegreesOfFreedom">G − m − 1.</param>
/// <param name="Heats">Heats tested at several treatments.</param>
/// <param name="IsLadder">True when at least 3 heats have 3 levels over 2 HRC.</param>
public sealed record TreatmentLadder(double Slope, double StandardError, double DegreesOfFreedom, int Heats, bool IsLadder)
{
    /// <summary>Fewest heats with a ladder of 3 levels over 2 HRC.</summary>
    public const int FewestHeats = 3;

    private const int FewestLevels = 3;
    private const double LeastSpanHrc = 2;

    /// <summary>Lowest treatment mean of hardness, HRC.</summary>
    public required double LowestHrc { get; init; }

    /// <summary>Highest treatment mean of hardness, HRC.</summary>
    public required double HighestHrc { get; init; }

    /// <summary>ΣnX².</summary>
    public required double HardnessSquares { get; init; }

    /// <summary>Reliability of the treatment means of hardness: 1 − s²(G − m)/ΣnX².</summary>
    /// <param name="withinVariance">Variance of coupon hardness inside a treatment s², HRC².</param>
    public double Reliability(double withinVariance) => 1 - withinVariance * (DegreesOfFreedom + 1) / HardnessSquares;

    /// <summary>Fits the slope from the heats tested at several treatments, or gives null when there is no residual degree of freedom.</summary>
    public static TreatmentLadder? Fit(IReadOnlyList<TrendHeat> heats)
    {
        double sxx = 0, sxz = 0, szz = 0, lowest = double.PositiveInfinity, highest = double.NegativeInfinity;
        int groups = 0, used = 0, ladders = 0;
        foreach (TrendHeat heat in heats)
        {
            if (heat.Groups.Count < 2) continue;
            double n = heat.Count, meanX = heat.Groups.Sum(g => g.Count * g.MeanHardness) / n;
            foreach (TrendGroup g in heat.Groups)
            {
                double x = g.MeanHardness - meanX, z = g.Mean - heat.Mean;
                (sxx, sxz, szz) = (sxx + g.Count * x * x, sxz + g.Count * x * z, szz + g.Count * z * z);
            }
            groups += heat.Groups.Count;
            used++;
            (double low, double high) = (heat.Groups.Min(g => g.MeanHardness), heat.Groups.Max(g => g.MeanHardness));
            (lowest, highest) = (Math.Min(lowest, low), Math.Max(highest, high));
            if (heat.Groups.Count >= FewestLevels && high - low >= LeastSpanHrc) ladders++;
        }
        int df = groups - used - 1;
        if (df < 1 || sxx <= 0) return null;
        double slope = sxz / sxx, variance = Math.Max(0, szz - slope * sxz) / df;
        return new(slope, Math.Sqrt(variance / sxx), df, used, ladders >= FewestHeats) { LowestHrc = lowest, HighestHrc = highest, HardnessSquares = sxx };
    }

    /// <summary>Two-sided p value of "this slope equals the slope between heats".</summary>
    public double PEqual(HeatTrend trend)
    {
        double own = StandardError * StandardError, other = trend.SlopeSe * trend.SlopeSe, sum = own + other;
        return StudentT.TwoSided((Slope - trend.Slope) / Math.Sqrt(sum), sum * sum / (own * own / DegreesOfFreedom + other * other / trend.DegreesOfFreedom));
    }
}
