using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Meltwise.Metallurgy.Tempering;

/// <summary>Linear regression with a normal-inverse-gamma prior: the posterior in closed form.</summary>
/// <remarks>
/// <para><b>Model.</b> y = X b + e, e normal with variance s². Prior: b about m, normal with covariance s² V, V diagonal; s² inverse gamma with mean scale s0² worth
/// ν0 cases. Posterior: precision V⁻¹ + X'X, mean by the normal equations on y - X m, scale² = (ν0 s0² + residuals² + deviation from the prior) / (ν0 + n). A new case
/// is Student's t on ν0 + n degrees of freedom.</para>
/// <para><b>Computation.</b> Normal equations: the caller centres and scales the columns.</para>
/// <para><b>Source.</b> Gelman and others, Bayesian Data Analysis, 3rd ed. (2013), section 14.2 with a conjugate prior; from memory.</para>
/// </remarks>
internal sealed class ConjugateRegression
{
    private readonly Matrix<double> _inverse;
    private readonly Vector<double> _mean;

    public ConjugateRegression(double[][] rows, double[] y, double[] priorMean, double[] priorSd, double priorScatter, double priorCases)
    {
        double priorVariance = priorScatter * priorScatter;
        Matrix<double> x = Matrix<double>.Build.DenseOfRowArrays(rows);
        Vector<double> prior = Vector<double>.Build.DenseOfArray(priorMean);
        Vector<double> priorPrecision = Vector<double>.Build.Dense(priorSd.Length, i => priorVariance / (priorSd[i] * priorSd[i]));
        Vector<double> deviation = Vector<double>.Build.DenseOfArray(y) - x * prior;

        _inverse = (x.TransposeThisAndMultiply(x) + Matrix<double>.Build.DenseOfDiagonalVector(priorPrecision)).Inverse();
        Vector<double> shift = _inverse * x.TransposeThisAndMultiply(deviation);
        _mean = prior + shift;
        Vector<double> misfit = deviation - x * shift;
        DegreesOfFreedom = priorCases + y.Length;
        Scatter = Math.Sqrt((priorCases * priorVariance + misfit * misfit + shift.PointwiseMultiply(priorPrecision) * shift) / DegreesOfFreedom);
    }

    /// <summary>Scatter about the line, one standard deviation.</summary>
    public double Scatter { get; }

    /// <summary>Degrees of freedom of a prediction.</summary>
    public double DegreesOfFreedom { get; }

    /// <summary>Coefficient <paramref name="i"/>.</summary>
    public double Coefficient(int i) => _mean[i];

    /// <summary>Standard uncertainty of coefficient <paramref name="i"/>.</summary>
    public double CoefficientSd(int i) => Scatter * Math.Sqrt(_inverse[i, i]);

    /// <summary>Value of the line.</summary>
    public double At(double[] row) => _mean * Vector<double>.Build.DenseOfArray(row);

    /// <summary>Half width of the interval of a new case.</summary>
    public double HalfWidth(double[] row, double level)
    {
        Vector<double> at = Vector<double>.Build.DenseOfArray(row);
        return Scatter * Math.Sqrt(1 + at * _inverse * at) * StudentT.InvCDF(0, 1, DegreesOfFreedom, 0.5 + level / 2);
    }
}
