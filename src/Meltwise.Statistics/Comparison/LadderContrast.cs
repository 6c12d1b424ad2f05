using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.Comparison;

/// <summary>Two lots at equal hardness, each tested over a ladder of tempers: candidate less reference by analysis of covariance, with no history.</summary>
/// <remarks>
/// <para><b>Model.</b> z = heat + b·x + e over all coupons, x the mean hardness of the coupon's level (its heat and treatment), one slope b, e independent with one variance σ². Coupon-to-coupon hardness inside a level is
/// mostly reading error and does not enter.</para>
/// <para><b>Formula.</b> θ = d − b·ΔH, d and ΔH the differences of the lots' means of z and of x (heats of a role weigh equally); V = σ²Σ1/(k²n_h) + ΔH²·SE(b)², k the heats of the role; ν = N − heats − 1, with one heat a role N − 3.
/// Parallel lines: F of one slope against one for every heat.</para>
/// <para><b>Limits.</b> The level means of hardness are taken as free of error, see <see cref="HardnessSquares"/>. A straight line over the ladder. The ladders must overlap in hardness, and the answer is for the overlap. Where the lines are not parallel θ is no one number: see <see cref="OnOwnLines"/>.</para>
/// <para><b>Source.</b> [Fisher1932], ch. 8; [MontgomeryDesign], ch. 15.</para>
/// </remarks>
public sealed record LadderContrast
{
    private readonly CovarianceAnalysis _analysis;
    private readonly double[] _weights;

    private LadderContrast(CovarianceAnalysis analysis, double[] weights) => (_analysis, _weights) = (analysis, weights);

    /// <summary>Candidate less reference as it stands, d.</summary>
    public required double Direct { get; init; }

    /// <summary>Candidate less reference in hardness, ΔH.</summary>
    public required double HardnessDifference { get; init; }

    /// <summary>Part of σ² in the variance of the candidate's mean.</summary>
    public required double CandidateUnit { get; init; }

    /// <summary>Part of σ² in the variance of the reference's mean.</summary>
    public required double ReferenceUnit { get; init; }

    /// <summary>Σ(x − heat mean of x)² over the coupons: what the slope rests on. With s² the variance of coupon hardness inside a level, the reliability of the level means is 1 − s²·(levels − heats)/this.</summary>
    public required double HardnessSquares { get; init; }

    /// <summary>b per HRC, analysis scale.</summary>
    public double Slope => _analysis.Slope.Estimate;

    /// <summary>Its standard error.</summary>
    public double SlopeSe => _analysis.Slope.StandardError;

    /// <summary>σ².</summary>
    public double ResidualVariance => _analysis.Fit.Sigma * _analysis.Fit.Sigma;

    /// <summary>N − heats − 1.</summary>
    public int DegreesOfFreedom => _analysis.Fit.DegreesOfFreedom;

    /// <summary>F of one slope for all heats.</summary>
    public double ParallelismF => _analysis.ParallelismF;

    /// <summary>Its p value.</summary>
    public double ParallelismP => _analysis.ParallelismP;

    /// <summary>Its denominator degrees of freedom.</summary>
    public int ParallelismDf => _analysis.ParallelismDf;

    /// <summary>θ with its standard error and ν.</summary>
    public ContrastEstimate Estimate => Holding(Direct - Slope * HardnessDifference, HardnessDifference);

    /// <summary>A contrast d − t·b that holds the slope t times: its variance is σ²(units) + t²·SE(b)², on ν, because σ² is one estimate.</summary>
    /// <param name="estimate">Its value.</param>
    /// <param name="times">t.</param>
    public ContrastEstimate Holding(double estimate, double times) =>
        new(estimate, Math.Sqrt(ResidualVariance * (CandidateUnit + ReferenceUnit) + times * times * SlopeSe * SlopeSe), DegreesOfFreedom);

    /// <summary>Candidate less reference at a hardness, every heat on its own line.</summary>
    /// <param name="hrc">The hardness, HRC.</param>
    public ContrastEstimate OnOwnLines(double hrc)
    {
        (double estimate, double error) = _analysis.Separate.Combination([.. _weights, .. _weights.Select(w => w * (hrc - _analysis.At))]);
        return new(estimate, error, _analysis.ParallelismDf);
    }

    /// <summary>Fits the model.</summary>
    /// <param name="z">Readings on the analysis scale, one a coupon.</param>
    /// <param name="candidate">Whether the coupon belongs to the candidate.</param>
    /// <param name="heat">Heat of each coupon.</param>
    /// <param name="levelHrc">Mean hardness of each coupon's level, HRC.</param>
    /// <exception cref="InsufficientDataException">A heat has one hardness only, or there are no degrees of freedom left.</exception>
    public static LadderContrast Fit(IReadOnlyList<double> z, IReadOnlyList<bool> candidate, IReadOnlyList<string> heat, IReadOnlyList<double> levelHrc)
    {
        CovarianceAnalysis analysis = AnalysisOfCovariance.Fit(z, heat, levelHrc, levelHrc.Average());
        int groups = analysis.Groups.Count;
        double[] count = new double[groups], sumZ = new double[groups], sumX = new double[groups];
        bool[] isCandidate = new bool[groups];
        int[] place = [.. heat.Select(h => Place(analysis.Groups, h))];
        for (int i = 0; i < place.Length; i++)
        {
            int g = place[i];
            (count[g], sumZ[g], sumX[g], isCandidate[g]) = (count[g] + 1, sumZ[g] + z[i], sumX[g] + levelHrc[i], candidate[i]);
        }
        int candidates = isCandidate.Count(c => c);
        double[] weights = [.. isCandidate.Select(c => c ? 1.0 / candidates : -1.0 / (groups - candidates))];
        double Unit(bool side) => Enumerable.Range(0, groups).Where(g => isCandidate[g] == side).Sum(g => weights[g] * weights[g] / count[g]);
        return new(analysis, weights)
        {
            Direct = Enumerable.Range(0, groups).Sum(g => weights[g] * sumZ[g] / count[g]),
            HardnessDifference = Enumerable.Range(0, groups).Sum(g => weights[g] * sumX[g] / count[g]),
            CandidateUnit = Unit(true),
            ReferenceUnit = Unit(false),
            HardnessSquares = place.Select((g, i) => levelHrc[i] - sumX[g] / count[g]).Sum(d => d * d),
        };
    }

    private static int Place(IReadOnlyList<string> groups, string name)
    {
        int g = 0;
        while (groups[g] != name) g++;
        return g;
    }
}
