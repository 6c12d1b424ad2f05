using System.Globalization;
using System.Numerics.Tensors;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>A parameter of the scatter with its standard error.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Estimate">Its estimate.</param>
/// <param name="StandardError">From the observed information; NaN where the likelihood has no peak in it.</param>
public readonly record struct ScatterParameter(string Name, double Estimate, double StandardError);

/// <summary>A fitted mixed model with unequal scatter.</summary>
/// <remarks>Degrees of freedom as in <see cref="LinearMixedModel"/>: Kenward and Roger's with the second derivatives of V, which is not linear in the scatter's own parameters; Satterthwaite's with observed or expected information.
/// The exponent or the ratios of the scatters are counted as estimated; a power's covariate, where it is the fitted mean, as given.</remarks>
public sealed class UnequalScatterFit
{
    private readonly CovarianceBlocks _data;
    private readonly CovarianceFit _at;
    private readonly double[,] _triangle;

    internal UnequalScatterFit(CovarianceBlocks data, IReadOnlyList<string> names, CovarianceFit at)
    {
        (_data, _at, CoefficientNames) = (data, at, names);
        _triangle = data.Design.InverseTriangle();
        Coefficients = data.Design.Coefficients([.. data.Along.Select((v, j) => v + at.Coefficients[j])]);
        CoefficientCovariance = Sandwich(at.Covariance);
    }

    /// <summary>Names of the fixed coefficients.</summary>
    public IReadOnlyList<string> CoefficientNames { get; }

    /// <summary>Fixed coefficients.</summary>
    public double[] Coefficients { get; }

    /// <summary>Their covariance, the scatter taken as known.</summary>
    public double[,] CoefficientCovariance { get; }

    /// <summary>Residual standard deviation σ: of the first group, or at a mean of 1 for a power.</summary>
    public double Sigma => _at.Sigma;

    /// <summary>Restricted or full log-likelihood at the maximum.</summary>
    public double LogLikelihood => _at.LogLikelihood;

    /// <summary>Covariance of the coefficients of one level of a factor.</summary>
    public double[,] CovarianceOf(int term) => _at.G[term];

    /// <summary>The scatter's own parameters: the exponent, or logarithms of the ratios to the first group's standard deviation.</summary>
    public IReadOnlyList<ScatterParameter> ScatterParameters
    {
        get
        {
            double[,]? covariance = ParameterCovariance(expected: false);
            return [.. _at.Delta.Select((d, k) => new ScatterParameter(_data.Scatter.NameOf(k), d, covariance is null ? double.NaN : Math.Sqrt(covariance[_data.Sigma + 1 + k, _data.Sigma + 1 + k])))];
        }
    }

    /// <summary>Residual standard deviation of each reading.</summary>
    public IReadOnlyList<double> ScatterOfReadings => _at.Sd;

    /// <summary>Conditional residuals over their own standard errors: what is left of a reading after its heat's own level.</summary>
    public IReadOnlyList<double> StudentizedResiduals => _at.StudentizedResiduals();

    /// <summary>Estimate, standard error and degrees of freedom of a linear combination of the coefficients.</summary>
    /// <param name="weights">One weight per coefficient.</param>
    /// <param name="method">How the degrees of freedom are found.</param>
    public MixedContrast Contrast(IReadOnlyList<double> weights, DegreesOfFreedomMethod method = DegreesOfFreedomMethod.KenwardRoger)
    {
        ArgumentNullException.ThrowIfNull(weights);
        double estimate = 0;
        for (int j = 0; j < Coefficients.Length; j++) estimate += weights[j] * Coefficients[j];
        double[] cl = CovarianceFit.Times(_at.Covariance, ToOrthonormal(weights)), l = ToOrthonormal(weights);
        double variance = TensorPrimitives.Dot<double>(l, cl), spread = 0;
        double[] gradient = [.. _at.First.Select(f => DesignMoments.Quadratic(cl, f))];
        bool observed = method == DegreesOfFreedomMethod.SatterthwaiteObserved;
        double[,] covariance = ParameterCovariance(!observed) ?? throw new InsufficientDataException("The likelihood has no clear peak in the scatter's parameters, so a contrast has no degrees of freedom. Use one scatter for all.");
        for (int a = 0; a < gradient.Length; a++)
            for (int b = 0; b < gradient.Length; b++) spread += gradient[a] * covariance[a, b] * gradient[b];
        double corrected = method == DegreesOfFreedomMethod.KenwardRoger ? variance + Correction(cl, covariance) : variance;
        return new(estimate, Math.Sqrt(Math.Max(corrected, variance)), 2 * variance * variance / spread, method);
    }

    /// <summary>One fixed coefficient as a contrast.</summary>
    public MixedContrast Coefficient(int index, DegreesOfFreedomMethod method = DegreesOfFreedomMethod.KenwardRoger) =>
        Contrast([.. Coefficients.Select((_, j) => j == index ? 1.0 : 0.0)], method);

    /// <summary>What a reader must know before using the numbers.</summary>
    public IReadOnlyList<string> Notes =>
    [
        $"{(_data.IsRestricted ? "Restricted maximum likelihood" : "Maximum likelihood")}; {_data.Readings.Length} readings{string.Concat(_data.Terms.Select(t => $", {t.Factor.Labels.Count} levels of {t.Factor.Name}"))}.",
        .. ScatterParameters.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Name} {p.Estimate:F2}, standard error {p.StandardError:F2}.")),
    ];

    /// <summary>Kenward and Roger's correction of l'Cl: 2Σ W_ab l'C(Q_ab − P_aCP_b − R_ab/4)Cl.</summary>
    private double Correction(double[] cl, double[,] w)
    {
        double sum = 0;
        for (int a = 0; a < w.GetLength(0); a++)
        {
            double[] pa = CovarianceFit.Times(_at.First[a], cl);
            for (int b = 0; b < w.GetLength(0); b++)
                sum += w[a, b] * (DesignMoments.Quadratic(cl, _at.Second(a, b)) - TensorPrimitives.Dot<double>(pa, CovarianceFit.Times(_at.Covariance, CovarianceFit.Times(_at.First[b], cl))) - 0.25 * DesignMoments.Quadratic(cl, _at.Bent(a, b)));
        }
        return 2 * sum;
    }

    private double[,]? ParameterCovariance(bool expected) => CholeskyFactor.Of(expected ? _at.Expected : _at.Observed)?.Inverse();

    private double[] ToOrthonormal(IReadOnlyList<double> weights)
    {
        double[] l = new double[Coefficients.Length];
        for (int j = 0; j < l.Length; j++)
            for (int i = 0; i < l.Length; i++) l[j] += weights[i] * _triangle[i, j];
        return l;
    }

    private double[,] Sandwich(double[,] middle)
    {
        int p = middle.GetLength(0);
        double[,] turned = new double[p, p];
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++) turned[j, i] = _triangle[i, j];
        return CovarianceFit.Times(CovarianceFit.Times(_triangle, middle), turned);
    }
}
