using System.Globalization;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.LeastSquares;

/// <summary>Ordinary linear least squares with the diagnostics a reader asks for.</summary>
/// <remarks>
/// <para><b>Computation.</b> Orthonormal columns by Gram-Schmidt done twice, no normal equations: digits are lost only to the condition of the columns
/// themselves. Robust standard errors of the HC3 kind from the same factors.</para>
/// <para><b>Limits.</b> More readings than coefficients, independent columns. Errors independent with one variance, except for HC3.</para>
/// <para><b>Source.</b> [GolubVanLoan2013], 5.2; [MacKinnonWhite1985] for HC3; [CookWeisberg1982].</para>
/// </remarks>
public static class LinearRegression
{
    /// <summary>Fits y on the columns (give a column of ones for an intercept).</summary>
    public static LinearFit Fit(IReadOnlyList<double> y, IReadOnlyList<IReadOnlyList<double>> columns, IReadOnlyList<string> names)
    {
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(columns);
        if (y.Count <= columns.Count)
            throw new InsufficientDataException($"A regression with {columns.Count} coefficients needs more than {columns.Count} readings; got {y.Count}.");
        OrthonormalColumns design = new([.. columns.Select(c => c.ToArray())], names);
        double[] residual = [.. y];
        double[] along = design.Project(residual);
        int n = y.Count, p = columns.Count;
        double squares = residual.Sum(r => r * r);
        double[,] inverse = design.InverseTriangle();
        double[] leverage = new double[n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < p; j++) leverage[i] += design.Q[j][i] * design.Q[j][i];
        return new(names, design.Coefficients(along), Covariance(inverse, squares / (n - p)), residual, leverage, squares, n - p, RobustErrors(design, inverse, residual, leverage));
    }

    private static double[,] Covariance(double[,] inverse, double variance)
    {
        int p = inverse.GetLength(0);
        double[,] covariance = new double[p, p];
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++)
                for (int k = 0; k < p; k++) covariance[i, j] += variance * inverse[i, k] * inverse[j, k];
        return covariance;
    }

    private static double[] RobustErrors(OrthonormalColumns design, double[,] inverse, double[] residual, double[] leverage)
    {
        int p = design.Q.Length;
        double[] errors = new double[p];
        for (int i = 0; i < residual.Length; i++)
        {
            double scaled = residual[i] / (1 - leverage[i]);
            for (int j = 0; j < p; j++)
            {
                double row = 0;
                for (int k = 0; k < p; k++) row += inverse[j, k] * design.Q[k][i];
                errors[j] += row * row * scaled * scaled;
            }
        }
        return [.. errors.Select(Math.Sqrt)];
    }
}

/// <summary>A fitted linear regression.</summary>
/// <param name="Names">Names of the coefficients.</param>
/// <param name="Coefficients">Their estimates.</param>
/// <param name="Covariance">Their covariance.</param>
/// <param name="Residuals">Readings less fitted values.</param>
/// <param name="Leverage">Weight of each reading in its own fitted value, 0 to 1.</param>
/// <param name="ResidualSquares">Sum of squared residuals.</param>
/// <param name="DegreesOfFreedom">Readings less coefficients.</param>
/// <param name="RobustStandardErrors">HC3 standard errors.</param>
public sealed record LinearFit(IReadOnlyList<string> Names, double[] Coefficients, double[,] Covariance, double[] Residuals, double[] Leverage,
    double ResidualSquares, int DegreesOfFreedom, double[] RobustStandardErrors)
{
    /// <summary>Residual standard deviation.</summary>
    public double Sigma => Math.Sqrt(ResidualSquares / DegreesOfFreedom);

    /// <summary>Standard error of a coefficient.</summary>
    public double StandardError(int coefficient) => Math.Sqrt(Covariance[coefficient, coefficient]);

    /// <summary>Two-sided p value of a coefficient being 0.</summary>
    public double P(int coefficient) => StudentT.TwoSided(Coefficients[coefficient] / StandardError(coefficient), DegreesOfFreedom);

    /// <summary>Cook's distance of each reading.</summary>
    public double[] CooksDistances => [.. Residuals.Select((r, i) =>
        r * r * Leverage[i] / (Coefficients.Length * Sigma * Sigma * (1 - Leverage[i]) * (1 - Leverage[i])))];

    /// <summary>Residual of each reading over its standard error with that reading left out.</summary>
    public double[] StudentizedDeletedResiduals => [.. Residuals.Select((r, i) =>
    {
        double without = (ResidualSquares - r * r / (1 - Leverage[i])) / (DegreesOfFreedom - 1);
        return r / Math.Sqrt(without * (1 - Leverage[i]));
    })];

    /// <summary>Estimate and standard error of a combination of the coefficients.</summary>
    public (double Estimate, double StandardError) Combination(IReadOnlyList<double> weights)
    {
        ArgumentNullException.ThrowIfNull(weights);
        double estimate = 0, variance = 0;
        for (int i = 0; i < weights.Count; i++)
        {
            estimate += weights[i] * Coefficients[i];
            for (int j = 0; j < weights.Count; j++) variance += weights[i] * Covariance[i, j] * weights[j];
        }
        return (estimate, Math.Sqrt(variance));
    }

    /// <summary>The fit as a person would read it.</summary>
    public override string ToString() => string.Join(Environment.NewLine, Names.Select((name, j) => string.Create(CultureInfo.InvariantCulture,
        $"{name,-24} {Coefficients[j],12:G6} ± {StandardError(j):G3}, p = {P(j):G3}")));
}
