using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Trend;

namespace Meltwise.Statistics.Sources;

/// <summary>A heat in a comparison of sources.</summary>
/// <param name="Source">Its source, 0 to count − 1.</param>
/// <param name="IsEnquiry">Whether it is one of the lots.</param>
/// <param name="Count">Coupons.</param>
/// <param name="Mean">Mean of z.</param>
/// <param name="SquaresWithin">Σ(z − mean)².</param>
/// <param name="MeanHardness">Mean hardness, HRC; not used without a slope.</param>
public readonly record struct SourceHeat(int Source, bool IsEnquiry, int Count, double Mean, double SquaresWithin, double MeanHardness)
{
    /// <summary>Variance within the heat; 0 for a single coupon.</summary>
    public double Variance => Count > 1 ? SquaresWithin / (Count - 1) : 0;
}

/// <summary>Difference of the long-run means of two sources, with the heat as the random unit.</summary>
/// <remarks>
/// <para><b>Model.</b> z = α_source (+ b·x_h) + u_h + e over all heats by restricted maximum likelihood, for τ², σ² and A, the inverse expected information of (τ², σ²), unconstrained also at τ² = 0.</para>
/// <para><b>Formula.</b> q = z̄_h − b·x_h, with a bend z̄_h − b(x_h − M) − c(x_h − M)²; v = σ²/n_h, but s²_h/n_h for a lot that is its source's only heat and has s²_h &gt; σ²; w = 1/(τ² + v), W = Σw in the source; θ = Σwq/W of the candidate's source less the reference's;
/// V = 1/W_C + 1/W_R; ν = 2V²/(g'Ag + Σ_own 2(w²v/W²)²/(n_h − 1)), g = (Σw²/W², Σ_not-own w²/(W²n_h)). With a slope the part D²SE² on its ν is added, D the same contrast of x_h; with a bend the variance of b·D + c·D₂, D₂ the contrast of (x_h − M)². ν is at least 1.</para>
/// <para><b>Limits.</b> A source with one heat borrows the scatter among other sources' heats. Degrees of freedom count heats, never coupons, also where τ² is estimated as 0.</para>
/// <para><b>Source.</b> [Satterthwaite1946] for ν of a function of estimated variances; [SearleCasellaMcCulloch1992].</para>
/// </remarks>
public sealed record SourceContrast
{
    /// <summary>The contrast with its standard error and ν.</summary>
    public required ContrastEstimate Estimate { get; init; }

    /// <summary>τ².</summary>
    public required double HeatVariance { get; init; }

    /// <summary>σ².</summary>
    public required double ResidualVariance { get; init; }

    /// <summary>Variance of the estimate of τ².</summary>
    public required double VarianceOfHeatVariance { get; init; }

    /// <summary>V without the slope's part.</summary>
    public required double VarianceOfContrast { get; init; }

    /// <summary>ν of that, at least 1.</summary>
    public required double DegreesOfFreedomOfContrast { get; init; }

    /// <summary>D²SE²; with a bend the variance of b·D + c·D₂.</summary>
    public required double VarianceFromSlope { get; init; }

    /// <summary>D, HRC: difference in hardness that the slope is applied to; 0 without a slope.</summary>
    public required double HardnessDifference { get; init; }

    /// <summary>D₂, HRC²: the same contrast of (x_h − M)²; 0 without a bend.</summary>
    public required double SquaresDifference { get; init; }

    /// <summary>Fits the model, or gives null when it cannot be fitted.</summary>
    /// <param name="heats">All heats of the stratum.</param>
    /// <param name="sources">Number of sources.</param>
    /// <param name="candidate">The candidate's source.</param>
    /// <param name="reference">The reference's source.</param>
    /// <param name="slope">Slope to equal hardness, or null to compare as tested.</param>
    /// <param name="lotsOwnVariances">Gives every lot its own variance within the heat, also where it is not its source's only heat or not above σ²: a check, not the method.</param>
    public static SourceContrast? Fit(IReadOnlyList<SourceHeat> heats, int sources, int candidate, int reference, SlopeOnHardness? slope, bool lotsOwnVariances = false)
    {
        double middle = slope?.Bend?.AtHrc ?? heats.Average(h => h.MeanHardness);
        List<HeatGroup> groups = [];
        for (int i = 0; i < heats.Count; i++)
        {
            double x = heats[i].MeanHardness - middle;
            double[] row = new double[sources + (slope is null ? 0 : slope.Value.Bend is null ? 1 : 2)];
            row[heats[i].Source] = 1;
            if (slope is not null) row[sources] = x;
            if (slope is { Bend: not null }) row[sources + 1] = x * x;
            groups.Add(new(i, heats[i].Count, heats[i].Mean, heats[i].SquaresWithin, row));
        }
        if (RandomHeatModel.Fit(groups, heats.Count) is not { } model) return null;
        Sums sums = default;
        foreach ((int source, int sign) in new[] { (candidate, 1), (reference, -1) }) sums = sums.Plus(Source(heats, source, sign, model, slope, middle, lotsOwnVariances));

        double heatGradient = sums.Heat, residualGradient = sums.Pooled;
        double spread = heatGradient * heatGradient * model.VarianceOfHeatVariance + residualGradient * residualGradient * model.VarianceOfResidualVariance
            + 2 * heatGradient * residualGradient * model.CovarianceOfVariances + sums.Own;
        double fromSlope = slope?.Variance(sums.Hardness, sums.Squares) ?? 0;
        double variance = sums.Variance + fromSlope, slopeSpread = slope is { } s ? 2 * fromSlope * fromSlope / s.DegreesOfFreedom : 0;
        return new()
        {
            Estimate = new(sums.Contrast, Math.Sqrt(variance), Math.Max(1, 2 * variance * variance / (spread + slopeSpread))),
            HeatVariance = model.HeatVariance,
            ResidualVariance = model.ResidualVariance,
            VarianceOfHeatVariance = model.VarianceOfHeatVariance,
            VarianceOfContrast = sums.Variance,
            DegreesOfFreedomOfContrast = Math.Max(1, 2 * sums.Variance * sums.Variance / spread),
            VarianceFromSlope = fromSlope,
            HardnessDifference = slope is null ? 0 : sums.Hardness,
            SquaresDifference = slope is { Bend: not null } ? sums.Squares : 0,
        };
    }

    private readonly record struct Sums(double Contrast, double Hardness, double Squares, double Variance, double Heat, double Pooled, double Own)
    {
        public Sums Plus(Sums o) => new(Contrast + o.Contrast, Hardness + o.Hardness, Squares + o.Squares, Variance + o.Variance, Heat + o.Heat, Pooled + o.Pooled, Own + o.Own);
    }

    private static Sums Source(IReadOnlyList<SourceHeat> heats, int source, int sign, RandomHeatModel model, SlopeOnHardness? slope, double middle, bool lotsOwn)
    {
        SourceHeat[] own = [.. heats.Where(h => h.Source == source)];
        bool alone = own.Length == 1;
        bool HasOwnScatter(SourceHeat h) => h.IsEnquiry && h.Variance > 0 && (lotsOwn || alone && h.Variance > model.ResidualVariance);
        double V(SourceHeat h) => (HasOwnScatter(h) ? h.Variance : model.ResidualVariance) / h.Count;
        double W(SourceHeat h) => 1 / (model.HeatVariance + V(h));

        double weight = own.Sum(W), contrast = 0, hardness = 0, squares = 0, heat = 0, pooled = 0, ownSpread = 0;
        foreach (SourceHeat h in own)
        {
            double w = W(h), share = w * w / (weight * weight);
            contrast += w / weight * (h.Mean - (slope?.Change(h.MeanHardness, middle) ?? 0));
            hardness += w / weight * h.MeanHardness;
            squares += w / weight * (h.MeanHardness - middle) * (h.MeanHardness - middle);
            heat += share;
            if (HasOwnScatter(h)) ownSpread += 2 * share * V(h) * (share * V(h)) / (h.Count - 1);
            else pooled += share / h.Count;
        }
        return new(sign * contrast, sign * hardness, sign * squares, 1 / weight, heat, pooled, ownSpread);
    }
}
