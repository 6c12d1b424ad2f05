using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.ScatterLaw;

/// <summary>A group of coupons of one kind: mean and variance of the logarithms.</summary>
/// <param name="Mean">Mean of z = ln y.</param>
/// <param name="Variance">Variance of z.</param>
/// <param name="DegreesOfFreedom">Coupons − 1, at least 1.</param>
public readonly record struct ScatterGroup(double Mean, double Variance, int DegreesOfFreedom);

/// <summary>How the standard deviation of a property grows with its mean: SD = s₀·mean^k.</summary>
/// <remarks>
/// <para><b>Model.</b> The variance v of the logarithms in a group is gamma distributed about v̂ = exp(a + b(m − m̄)), m the mean logarithm, m̄ = Σνm/Σν; k = 1 + b/2.</para>
/// <para><b>Computation.</b> Gamma regression, log link, weights ν/2, by iterated weighted least squares; SE(k) = SE(b)·√max(1, φ)/2 with φ = Σ(ν/2)(v/v̂ − 1)²/(G − 2); t with G − 2.</para>
/// <para><b>Limits.</b> The exponent needs 5 groups whose means span a factor 1.5; otherwise k = 1 is assumed and v̂ = Σνv/Σν. Groups with v = 0 count.</para>
/// <para><b>Source.</b> [McCullaghNelder1989] for gamma regression of variances.</para>
/// </remarks>
public sealed record GammaVarianceLaw
{
    /// <summary>Groups needed for any fit.</summary>
    public const int FewestGroups = 5;

    /// <summary>k.</summary>
    public required double Exponent { get; init; }

    /// <summary>Standard error of k; null when k is assumed.</summary>
    public double? StandardError { get; init; }

    /// <summary>Number of groups G.</summary>
    public required int Groups { get; init; }

    /// <summary>Σν.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>φ; 1 is what chance gives.</summary>
    public required double Dispersion { get; init; }

    /// <summary>m̄.</summary>
    public required double MeanLog { get; init; }

    /// <summary>a: logarithm of the variance at m̄.</summary>
    public required double LogVarianceAtMean { get; init; }

    /// <summary>b = 2(k − 1).</summary>
    public required double SlopeOfLogVariance { get; init; }

    /// <summary>Whether the exponent was estimated.</summary>
    public bool IsEstimated => StandardError is not null;

    /// <summary>95 % interval of k; null when assumed.</summary>
    public (double Lower, double Upper)? Interval
    {
        get
        {
            if (StandardError is not { } se) return null;
            double half = StudentT.Quantile(0.975, Groups - 2) * se;
            return (Exponent - half, Exponent + half);
        }
    }

    /// <summary>Variance of z that the law expects at a mean logarithm.</summary>
    public double VarianceAt(double meanLog) => Math.Exp(LogVarianceAtMean + SlopeOfLogVariance * (meanLog - MeanLog));

    /// <summary>Fits the law, or gives null with fewer than 5 groups or no scatter at all.</summary>
    public static GammaVarianceLaw? Fit(IReadOnlyList<ScatterGroup> groups)
    {
        if (groups.Count < FewestGroups) return null;
        int total = groups.Sum(g => g.DegreesOfFreedom);
        double centre = groups.Sum(g => g.DegreesOfFreedom * g.Mean) / total, pooled = groups.Sum(g => g.DegreesOfFreedom * g.Variance) / total;
        if (pooled <= 0) return null;
        bool bend = Math.Exp(groups.Max(g => g.Mean) - groups.Min(g => g.Mean)) >= 1.5;
        (double a, double b) = Iterate(groups, centre, Math.Log(pooled), bend);

        double dispersion = 0, sw = 0, sx = 0, sxx = 0;
        foreach (ScatterGroup g in groups)
        {
            double w = g.DegreesOfFreedom / 2.0, x = g.Mean - centre, relative = g.Variance / Math.Exp(a + b * x) - 1;
            dispersion += w * relative * relative;
            (sw, sx, sxx) = (sw + w, sx + w * x, sxx + w * x * x);
        }
        dispersion /= groups.Count - (bend ? 2 : 1);
        double slopeVariance = sw / (sw * sxx - sx * sx);
        return new()
        {
            Exponent = 1 + b / 2, StandardError = bend ? Math.Sqrt(slopeVariance * Math.Max(1, dispersion)) / 2 : null, Groups = groups.Count,
            DegreesOfFreedom = total, Dispersion = dispersion, MeanLog = centre, LogVarianceAtMean = a, SlopeOfLogVariance = b,
        };
    }

    /// <summary>Weighted least squares of the working response; the first steps are halved, because a group variance near 0 throws the working response far.</summary>
    private static (double A, double B) Iterate(IReadOnlyList<ScatterGroup> groups, double centre, double a, bool bend)
    {
        double b = 0;
        for (int step = 0; step < 200; step++)
        {
            double sw = 0, sx = 0, sxx = 0, sz = 0, sxz = 0;
            foreach (ScatterGroup g in groups)
            {
                double w = g.DegreesOfFreedom / 2.0, x = g.Mean - centre, eta = a + b * x, z = eta + g.Variance / Math.Exp(eta) - 1;
                (sw, sx, sxx, sz, sxz) = (sw + w, sx + w * x, sxx + w * x * x, sz + w * z, sxz + w * x * z);
            }
            double determinant = sw * sxx - sx * sx;
            double newA = bend ? (sxx * sz - sx * sxz) / determinant : sz / sw, newB = bend ? (sw * sxz - sx * sz) / determinant : 0;
            double share = step < 3 ? 0.5 : 1, changeA = share * (newA - a), changeB = share * (newB - b);
            (a, b) = (a + changeA, b + changeB);
            if (step >= 3 && Math.Abs(changeA) < 1e-14 && Math.Abs(changeB) < 1e-14) break;
        }
        return (a, b);
    }
}
