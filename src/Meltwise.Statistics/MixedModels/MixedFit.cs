using System.Globalization;
using System.Numerics.Tensors;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>A variance component: how much one random factor scatters.</summary>
/// <param name="Name">The factor, or "residual".</param>
/// <param name="Variance">Its variance, in the square of the unit of the readings; 0 at the boundary.</param>
public readonly record struct VarianceComponent(string Name, double Variance)
{
    /// <summary>Its standard deviation, in the unit of the readings.</summary>
    public double StandardDeviation => Math.Sqrt(Variance);
}

/// <summary>The fitted mixed model: coefficients, variance components, and what follows from them.</summary>
public sealed class MixedFit
{
    private readonly double[,] _inverseTriangle;

    internal MixedFit(MixedData data, double[] y, double[][] design, IReadOnlyList<string> names, double[]? weights, bool reml, double[] variance, VarianceScore at, int iterations)
    {
        (Data, Readings, Design, Weights, IsRestricted, Variances, Score, Iterations) = (data, y, design, weights, reml, variance, at, iterations);
        CoefficientNames = names;
        Inverse = Absorbed.At(data, variance, withDesign: false)!.WithLevels();
        double[,] information = Inverse.DesignInformation();
        DesignCovariance = CholeskyFactor.Of(information)!.Inverse();
        _inverseTriangle = data.Design.InverseTriangle();
        Coefficients = data.Design.Coefficients(Add(data.Ols, OrthonormalEstimate()));
        CoefficientCovariance = Sandwich(_inverseTriangle, DesignCovariance);
    }

    /// <summary>Names of the fixed coefficients.</summary>
    public IReadOnlyList<string> CoefficientNames { get; }

    /// <summary>Fixed coefficients.</summary>
    public double[] Coefficients { get; }

    /// <summary>Their covariance, variance components taken as known.</summary>
    public double[,] CoefficientCovariance { get; }

    /// <summary>Restricted or full log-likelihood at the maximum.</summary>
    public double LogLikelihood => Score.LogLikelihood;

    /// <summary>True where the variance components are restricted maximum likelihood estimates.</summary>
    public bool IsRestricted { get; }

    /// <summary>Newton steps taken.</summary>
    public int Iterations { get; }

    /// <summary>Variance components, residual last.</summary>
    public IReadOnlyList<VarianceComponent> Components =>
        [.. Data.Terms.Select((t, k) => new VarianceComponent(t.Name, Variances[k])), new VarianceComponent("residual", Variances[^1])];

    /// <summary>What a reader must know before using the numbers.</summary>
    public IReadOnlyList<string> Notes
    {
        get
        {
            List<string> notes = [$"{(IsRestricted ? "Restricted maximum likelihood" : "Maximum likelihood")}; {Data.N} readings, {string.Join(", ", Data.Terms.Select(t => $"{t.Labels.Count} levels of {t.Name}"))}."];
            notes.AddRange(Components.Where(c => c.Variance == 0).Select(c => $"The best estimate of the variance of {c.Name} is 0; it is not shown that it does not scatter."));
            return notes;
        }
    }

    internal MixedData Data { get; }
    internal double[] Readings { get; }
    internal double[][] Design { get; }
    internal double[]? Weights { get; }
    internal double[] Variances { get; }
    internal VarianceScore Score { get; }

    /// <summary>V⁻¹ with its levels.</summary>
    internal Absorbed Inverse { get; }

    /// <summary>Covariance of the coefficients of the orthonormal design.</summary>
    internal double[,] DesignCovariance { get; }

    /// <summary>Estimate, standard error and degrees of freedom of a linear combination of the coefficients.</summary>
    /// <param name="weights">One weight per coefficient.</param>
    /// <param name="method">How the degrees of freedom are found.</param>
    public MixedContrast Contrast(IReadOnlyList<double> weights, DegreesOfFreedomMethod method = DegreesOfFreedomMethod.KenwardRoger)
    {
        ArgumentNullException.ThrowIfNull(weights);
        double estimate = 0;
        for (int j = 0; j < Coefficients.Length; j++) estimate += weights[j] * Coefficients[j];
        (double error, double df) = method switch
        {
            DegreesOfFreedomMethod.KenwardRoger => KenwardRoger.Contrast(this, ToOrthonormal(weights)),
            DegreesOfFreedomMethod.SatterthwaiteObserved => Satterthwaite.Contrast(this, ToOrthonormal(weights), Score.Observed, dropZero: true),
            _ => Satterthwaite.Contrast(this, ToOrthonormal(weights), Score.Expected, dropZero: false),
        };
        return new(estimate, error, df, method);
    }

    /// <summary>One fixed coefficient as a contrast.</summary>
    public MixedContrast Coefficient(int index, DegreesOfFreedomMethod method = DegreesOfFreedomMethod.KenwardRoger)
    {
        double[] unit = new double[Coefficients.Length];
        unit[index] = 1;
        return Contrast(unit, method);
    }

    /// <summary>F test that several combinations are all zero, with Kenward and Roger's scaling and denominator degrees of freedom.</summary>
    /// <param name="rows">Combinations, one weight per coefficient each; must be independent.</param>
    public MixedJointTest JointTest(IReadOnlyList<IReadOnlyList<double>> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        return KenwardRoger.Joint(this, [.. rows.Select(ToOrthonormal)]);
    }

    /// <summary>Predicted effects of a random factor with their prediction standard errors, largest shrinkage where the level has few readings.</summary>
    public IReadOnlyList<RandomEffect> Effects(int term)
    {
        Absorbed full = Absorbed.At(Data, Variances, withDesign: true)!.WithLevels();
        double[] big = new double[Data.BigLevels], small = new double[Data.SmallLevels];
        full.Residual(big, small);
        double variance = Variances[term];
        return [.. Data.Terms[term].Labels.Select((label, i) =>
        {
            bool isBig = term == Data.Big;
            int at = isBig ? i : Data.Start[term] + i;
            double known = isBig ? full.Big(at, at) : full.Small(at, at);
            return new RandomEffect(label, variance * (isBig ? big[at] : small[at]), Math.Sqrt(Math.Max(0, variance - variance * variance * known)));
        })];
    }

    /// <summary>Covariance of the variance components: inverse observed information, components at 0 left out (null rows).</summary>
    public double[,]? ComponentCovariance(bool expected = false)
    {
        int[] kept = [.. Enumerable.Range(0, Variances.Length).Where(k => expected || Variances[k] > 0)];
        return CholeskyFactor.Of(VarianceSearch.Part(expected ? Score.Expected : Score.Observed, kept))?.Inverse();
    }

    internal double[] ToOrthonormal(IReadOnlyList<double> weights)
    {
        int p = Coefficients.Length;
        double[] l = new double[p];
        for (int j = 0; j < p; j++)
            for (int i = 0; i < p; i++) l[j] += weights[i] * _inverseTriangle[i, j];
        return l;
    }

    private double[] OrthonormalEstimate()
    {
        int p = Data.P;
        double[] rhs = Inverse.DesignResponse();
        double[] b = new double[p];
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++) b[i] += DesignCovariance[i, j] * rhs[j];
        return b;
    }

    private static double[] Add(double[] a, double[] b)
    {
        double[] sum = new double[a.Length];
        TensorPrimitives.Add<double>(a, b, sum);
        return sum;
    }

    private static double[,] Sandwich(double[,] a, double[,] middle)
    {
        int p = a.GetLength(0);
        double[,] half = new double[p, p], full = new double[p, p];
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++)
                for (int k = 0; k < p; k++) half[i, j] += a[i, k] * middle[k, j];
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++)
                for (int k = 0; k < p; k++) full[i, j] += half[i, k] * a[j, k];
        return full;
    }
}

/// <summary>Where the degrees of freedom of a contrast come from.</summary>
public enum DegreesOfFreedomMethod
{
    /// <summary>Kenward and Roger: standard error corrected for the estimated variances, expected information. The default.</summary>
    KenwardRoger,

    /// <summary>Satterthwaite with the observed information, components at zero left out.</summary>
    SatterthwaiteObserved,

    /// <summary>Satterthwaite with the expected information, components at zero kept.</summary>
    SatterthwaiteExpected,
}

/// <summary>An estimated contrast of a mixed model.</summary>
/// <param name="Estimate">Its value, in the unit of the readings.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of its t statistic.</param>
/// <param name="Method">Where these come from.</param>
public sealed record MixedContrast(double Estimate, double StandardError, double DegreesOfFreedom, DegreesOfFreedomMethod Method)
{
    /// <summary>Estimate over standard error.</summary>
    public double T => Estimate / StandardError;

    /// <summary>Two-sided p value of no effect.</summary>
    public double P => StudentT.TwoSided(T, DegreesOfFreedom);

    /// <summary>Two-sided interval.</summary>
    /// <param name="level">Coverage, such as 0.95.</param>
    public (double Lower, double Upper) Interval(double level)
    {
        double half = StudentT.Quantile(0.5 + level / 2, DegreesOfFreedom) * StandardError;
        return (Estimate - half, Estimate + half);
    }

    /// <summary>The contrast as a sentence.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Estimate:G5}, standard error {StandardError:G3}, {DegreesOfFreedom:F1} degrees of freedom ({Method}), p = {P:G3}");
}

/// <summary>Joint test of several contrasts.</summary>
/// <param name="F">Scaled F statistic.</param>
/// <param name="NumeratorDf">Number of independent contrasts.</param>
/// <param name="DenominatorDf">Kenward and Roger's denominator degrees of freedom.</param>
/// <param name="Scaling">Factor already applied to <paramref name="F"/>.</param>
public sealed record MixedJointTest(double F, int NumeratorDf, double DenominatorDf, double Scaling)
{
    /// <summary>p value.</summary>
    public double P => FisherF.UpperTail(F, NumeratorDf, DenominatorDf);
}

/// <summary>The predicted effect of one level of a random factor.</summary>
/// <param name="Label">The level.</param>
/// <param name="Effect">Predicted deviation from the fixed part, shrunk towards 0.</param>
/// <param name="PredictionError">Standard error of prediction, fixed coefficients estimated.</param>
public sealed record RandomEffect(string Label, double Effect, double PredictionError);
