using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.LeastSquares;

/// <summary>Groups compared at one value of a covariate: impact energy at equal hardness from one ladder of tempers.</summary>
/// <remarks><b>Model.</b> y = group + b·x + e with one slope; its homogeneity is tested by giving every group its own. <b>Limits.</b> The covariate is
/// taken as free of error, and the value compared at should lie inside every group's range. <b>Source.</b> [Fisher1932], ch. 8; [MontgomeryDesign], ch. 15.</remarks>
public static class AnalysisOfCovariance
{
    /// <summary>Fits the model.</summary>
    /// <param name="y">Readings.</param>
    /// <param name="group">Group of each reading.</param>
    /// <param name="x">Covariate.</param>
    /// <param name="at">Value of the covariate to compare at.</param>
    public static CovarianceAnalysis Fit(IReadOnlyList<double> y, IReadOnlyList<string> group, IReadOnlyList<double> x, double at)
    {
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(group);
        string[] groups = [.. group.Distinct()];
        if (groups.Length < 2) throw new InsufficientDataException($"A comparison at equal covariate needs at least 2 groups; got {groups.Length}.");
        double[][] indicator = [.. groups.Select(g => group.Select(v => v == g ? 1.0 : 0.0).ToArray())];
        double[] shifted = [.. x.Select(v => v - at)];
        LinearFit common = LinearRegression.Fit(y, [.. indicator, shifted], [.. groups, "slope"]);
        LinearFit separate = LinearRegression.Fit(y, [.. indicator, .. indicator.Select(d => d.Zip(shifted, (a, b) => a * b).ToArray())],
            [.. groups, .. groups.Select(g => "slope of " + g)]);
        int slopes = groups.Length - 1;
        double f = (common.ResidualSquares - separate.ResidualSquares) / slopes / (separate.ResidualSquares / separate.DegreesOfFreedom);
        return new(groups, common, at, f, FisherF.UpperTail(f, slopes, separate.DegreesOfFreedom), separate.DegreesOfFreedom, separate);
    }
}

/// <summary>Groups at one value of the covariate.</summary>
/// <param name="Groups">Names, in order of first appearance.</param>
/// <param name="Fit">The common-slope fit; its first coefficients are the adjusted means.</param>
/// <param name="At">Value of the covariate compared at.</param>
/// <param name="ParallelismF">F of "one slope for all".</param>
/// <param name="ParallelismP">Its p value; a small one forbids the comparison at a single value.</param>
/// <param name="ParallelismDf">Its denominator degrees of freedom.</param>
/// <param name="Separate">The fit with a slope for every group; its first coefficients are the means at <paramref name="At"/> on the groups' own lines.</param>
public sealed record CovarianceAnalysis(
    IReadOnlyList<string> Groups, LinearFit Fit, double At, double ParallelismF, double ParallelismP, int ParallelismDf, LinearFit Separate)
{
    /// <summary>Adjusted mean of a group with its standard error.</summary>
    public (double Estimate, double StandardError) Mean(int group) => (Fit.Coefficients[group], Fit.StandardError(group));

    /// <summary>Adjusted difference of two groups with its standard error.</summary>
    public (double Estimate, double StandardError) Difference(int first, int second)
    {
        double[] weights = new double[Fit.Coefficients.Length];
        weights[first] = 1;
        weights[second] = -1;
        return Fit.Combination(weights);
    }

    /// <summary>Slope with its standard error.</summary>
    public (double Estimate, double StandardError) Slope => (Fit.Coefficients[^1], Fit.StandardError(Fit.Coefficients.Length - 1));
}
