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
/// <para><b>Computation.</b> Gamma regression, log link, weights ν/2, by Fisher scoring with halved steps; SE(k) = SE(b)·√max(1, φ)/2 with φ = Σ(ν/2)(v/v̂ − 1)²/(G − 2); t with G − 2.</para>
/// <para><b>Limits.</b> The exponent needs 5 groups whose means span a factor 1.5; otherwise, or when k runs away (|k − 1| above 10), k = 1 is assumed and v̂ = Σνv/Σν. Groups with v = 0 count.</para>
/// <para><b>Source.</b> [McCullaghNelder1989] for gamma regression of variances.</para>
/// </remarks>
public sealed record GammaVarianceLaw
{
    /// <summary>Groups needed for any fit.</summary>
    public const int FewestGroups = 5;

    private const int MostSteps = 200;
    private const double SteepestSlope = 20;

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
        (double A, double B)? fit = Iterate(groups, centre, Math.Log(pooled), bend);
        if (fit is null)
        {
            bend = false;
            fit = Iterate(groups, centre, Math.Log(pooled), bend);
        }
        (double a, double b) = fit ?? (Math.Log(pooled), 0);

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
            Exponent = 1 + b / 2,
            StandardError = bend ? Math.Sqrt(slopeVariance * Math.Max(1, dispersion)) / 2 : null,
            Groups = groups.Count,
            DegreesOfFreedom = total,
            Dispersion = dispersion,
            MeanLog = centre,
            LogVarianceAtMean = a,
            SlopeOfLogVariance = b,
        };
    }

    /// <summary>Fisher scoring on the quasi-likelihood −Σw(η + v·exp(−η)), which is concave; a step that lowers it is halved.</summary>
    /// <returns>Null when the slope runs away, as when a single group holds all the scatter.</returns>
    private static (double A, double B)? Iterate(IReadOnlyList<ScatterGroup> groups, double centre, double a, bool bend)
    {
        double b = 0, height = Height(groups, centre, a, b);
        for (int step = 0; step < MostSteps; step++)
        {
            double sw = 0, sx = 0, sxx = 0, sr = 0, sxr = 0;
            foreach (ScatterGroup g in groups)
            {
                double w = g.DegreesOfFreedom / 2.0, x = g.Mean - centre, r = g.Variance / Math.Exp(a + b * x) - 1;
                (sw, sx, sxx, sr, sxr) = (sw + w, sx + w * x, sxx + w * x * x, sr + w * r, sxr + w * x * r);
            }
            double determinant = sw * sxx - sx * sx;
            double changeA = bend ? (sxx * sr - sx * sxr) / determinant : sr / sw, changeB = bend ? (sw * sxr - sx * sr) / determinant : 0, share = 1;
            double next = Height(groups, centre, a + changeA, b + changeB);
            while (!(next >= height - 1e-14 * Math.Abs(height)) && share > 1e-9)
            {
                share /= 2;
                next = Height(groups, centre, a + share * changeA, b + share * changeB);
            }
            (a, b, height) = (a + share * changeA, b + share * changeB, next);
            if (!double.IsFinite(a) || Math.Abs(b) > SteepestSlope) return null;
            if (Math.Abs(changeA) < 1e-13 && Math.Abs(changeB) < 1e-13) return (a, b);
        }
        return (a, b);
    }

    private static double Height(IReadOnlyList<ScatterGroup> groups, double centre, double a, double b)
    {
        double sum = 0;
        foreach (ScatterGroup g in groups)
        {
            double eta = a + b * (g.Mean - centre);
            sum -= g.DegreesOfFreedom / 2.0 * (eta + g.Variance * Math.Exp(-eta));
        }
        return sum;
    }
}
