namespace Meltwise.Statistics.Distributions;

/// <summary>A probability with the standard error of its computation; zero error means quadrature to about 1e-10.</summary>
/// <param name="Value">The probability.</param>
/// <param name="StandardError">Standard error of the quasi-Monte Carlo estimate, or 0 for quadrature.</param>
public readonly record struct ComputedProbability(double Value, double StandardError);

/// <summary>The largest of several correlated t statistics that share one variance estimate: Dunnett's and any other simultaneous intervals.</summary>
/// <remarks>
/// <para><b>Formula.</b> T_i = X_i/s with corr(X) = R and s = √(χ²_ν/ν). Where R has one factor, r_ij = λ_i λ_j (groups
/// against one control), the tail is a double integral and is done by quadrature. Otherwise X = A·ρ·u with u uniform
/// on the sphere of the rank r of R: given u, P(max ≤ t s) is an F probability of (t/M(u))²/r with r and ν degrees of freedom, M(u) = max|A u|;
/// it is averaged over a shifted lattice of directions (12 shifts of 1021 points), whose spread gives the error.</para>
/// <para><b>Range.</b> R positive semidefinite with unit diagonal; ν &gt; 0 or infinite. Quasi-Monte Carlo error about 1e-4 at a tail of 0.05.</para>
/// <para><b>Source.</b> One factor: [Dunnett1955], [HochbergTamhane1987]; directions: [Somerville1997]; lattice: [Richtmyer1951].</para>
/// </remarks>
public static class MultivariateT
{
    /// <summary>P(max |T_i| &gt; t): the two-sided simultaneous p value.</summary>
    public static ComputedProbability TwoSidedTail(double t, double[,] correlation, double degreesOfFreedom) => new SimultaneousT(correlation).TwoSidedTail(t, degreesOfFreedom);

    /// <summary>P(max T_i &gt; t): the one-sided simultaneous p value. Needs a one-factor correlation or falls back on directions.</summary>
    public static ComputedProbability OneSidedTail(double t, double[,] correlation, double degreesOfFreedom) => new SimultaneousT(correlation).OneSidedTail(t, degreesOfFreedom);

    /// <summary>The t with P(max |T_i| &gt; t) = alpha.</summary>
    public static double TwoSidedCritical(double alpha, double[,] correlation, double degreesOfFreedom) => new SimultaneousT(correlation).TwoSidedCritical(alpha, degreesOfFreedom);
}

/// <summary>The tails of <see cref="MultivariateT"/> for one correlation matrix, its factor or directions found once.</summary>
public sealed class SimultaneousT
{
    private readonly OneFactor? _factor;
    private readonly SphereDirections? _directions;

    /// <param name="correlation">Positive semidefinite with unit diagonal.</param>
    public SimultaneousT(double[,] correlation)
    {
        ArgumentNullException.ThrowIfNull(correlation);
        _factor = OneFactor.Of(correlation);
        _directions = _factor is null ? new(correlation) : null;
    }

    /// <summary>P(max |T_i| &gt; t).</summary>
    public ComputedProbability TwoSidedTail(double t, double degreesOfFreedom) => t <= 0 ? new(1, 0)
        : _factor is { } factor ? new(Math.Min(1, ChiRoot.Mix(degreesOfFreedom, s => factor.TwoSided(t * s))), 0)
        : _directions!.TwoSidedTail(t, degreesOfFreedom);

    /// <summary>P(max T_i &gt; t).</summary>
    public ComputedProbability OneSidedTail(double t, double degreesOfFreedom) => _factor is { } factor
        ? new(Math.Min(1, ChiRoot.Mix(degreesOfFreedom, s => factor.OneSided(t * s))), 0)
        : _directions!.OneSidedTail(t, degreesOfFreedom);

    /// <summary>The t with P(max |T_i| &gt; t) = alpha.</summary>
    public double TwoSidedCritical(double alpha, double degreesOfFreedom) => TailInversion.OnPositive(1 - alpha, t =>
    {
        double upper = TwoSidedTail(t, degreesOfFreedom).Value;
        return (1 - upper, upper);
    }, StudentT.Quantile(1 - alpha / 2, degreesOfFreedom));
}

/// <summary>The loadings λ of a one-factor correlation matrix r_ij = λ_i λ_j.</summary>
internal sealed class OneFactor(double[] loadings)
{
    /// <summary>The loadings, or null where the matrix has no such form (to 1e-9) or a loading reaches 1.</summary>
    public static OneFactor? Of(double[,] r)
    {
        int k = r.GetLength(0);
        double[] loading = new double[k];
        if (k == 1) return new(loading);
        if (k == 2)
        {
            loading[0] = Math.Sqrt(Math.Abs(r[0, 1]));
            loading[1] = loading[0] * Math.Sign(r[0, 1]);
            return loading[0] < 0.9999 ? new(loading) : null;
        }

        // A zero first row cannot carry the signs; such matrices go to the general method, independence excepted.
        double square = r[1, 2] == 0 ? 0 : r[0, 1] * r[0, 2] / r[1, 2];
        if (square is < 0 or >= 0.9998) return null;
        loading[0] = Math.Sqrt(square);
        for (int i = 1; i < k; i++) loading[i] = loading[0] == 0 ? 0 : r[0, i] / loading[0];
        for (int i = 0; i < k; i++)
        {
            if (Math.Abs(loading[i]) >= 0.9999) return null;
            for (int j = 0; j < i; j++)
                if (Math.Abs(loading[i] * loading[j] - r[i, j]) > 1e-9) return null;
        }
        return new(loading);
    }

    public double TwoSided(double c) => Integrate(c, (z, i) =>
    {
        double root = Math.Sqrt(1 - loadings[i] * loadings[i]), shift = loadings[i] * z;
        return Normal.UpperTail((c - shift) / root) + Normal.Cdf((-c - shift) / root);
    });

    public double OneSided(double c) => Integrate(c, (z, i) =>
        Normal.UpperTail((c - loadings[i] * z) / Math.Sqrt(1 - loadings[i] * loadings[i])));

    /// <summary>∫ φ(z) (1 - Π(1 - outside_i(z))) dz.</summary>
    private double Integrate(double c, Func<double, int, double> outside)
    {
        // Independent statistics have no factor to integrate over.
        if (loadings.All(l => l == 0)) return Any(0, outside);
        double steepest = loadings.Max(l => Math.Abs(l) / Math.Sqrt(1 - l * l));
        double h = 0.7 / Math.Sqrt(1 + loadings.Length * Math.Max(1, steepest * steepest)), sum = 0;
        double end = 9 + Math.Abs(c);
        for (double z = -end; z <= end; z += h) sum += Normal.Density(z) * Any(z, outside);
        return sum * h;
    }

    private double Any(double z, Func<double, int, double> outside)
    {
        double any = 0;
        for (int i = 0; i < loadings.Length; i++) any += (1 - any) * outside(z, i);
        return any;
    }
}
