using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>Linear mixed model whose residual scatter differs between readings: a power of the mean, or a standard deviation of its own for each group; with random coefficients where a factor needs more than an intercept.</summary>
/// <remarks>
/// <para><b>Model.</b> y = Xb + Σ Z_k u_k + e, the coefficients of one level of a factor normal with covariance G_k (any), e normal with standard deviation σ·g_i(δ), all independent. Without random factors it is generalized least squares.</para>
/// <para><b>Computation.</b> Restricted (or full) likelihood. V falls into blocks, one for each set of readings that shares levels; each block is factored densely. Score ½(r'W V_i W r − tr(W V_i) + tr(C X'W V_i W X))
/// with W = V⁻¹ and C = (X'WX)⁻¹, analytic in every parameter; scoring steps with the expected information in the triangle of G (free in sign, so that a variance of 0 is no edge), ln σ and δ, halved until the likelihood rises.
/// A power of the fitted mean is renewed to its fixed point, as generalized least squares does: the mean does not bend to explain the scatter.</para>
/// <para><b>Limits.</b> More readings than coefficients. A block of n readings costs n³: up to about 500 readings that hang together by crossed factors; use <see cref="LinearMixedModel"/> for one scatter and independent intercepts.</para>
/// <para><b>Source.</b> [PinheiroBates2000], 5.2; [CarrollRuppert1988]; [PattersonThompson1971].</para>
/// </remarks>
public static class UnequalScatterModel
{
    private const int Steps = 200, Rounds = 100;

    /// <summary>Fits the model.</summary>
    /// <param name="y">Readings.</param>
    /// <param name="columns">Columns of the fixed design, intercept included.</param>
    /// <param name="names">Names of the coefficients.</param>
    /// <param name="terms">Random factors; may be empty.</param>
    /// <param name="scatter">How the residual scatter differs.</param>
    /// <param name="likelihood">Restricted by default.</param>
    /// <exception cref="InsufficientDataException">The data cannot carry the model; the message says what is missing.</exception>
    public static UnequalScatterFit Fit(IReadOnlyList<double> y, IReadOnlyList<IReadOnlyList<double>> columns, IReadOnlyList<string> names,
        IReadOnlyList<RandomCoefficients> terms, ScatterModel scatter, Likelihood likelihood = Likelihood.Restricted)
    {
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(terms);
        ArgumentNullException.ThrowIfNull(scatter);
        if (y.Count <= columns.Count)
            throw new InsufficientDataException($"A model with {columns.Count} coefficients needs more than {columns.Count} readings; got {y.Count}.");
        if (scatter is ScatterModel.ByGroup g && g.Groups.Labels.Where((_, l) => g.Groups.Level.Count(v => v == l) < 2).FirstOrDefault() is { } lone)
            throw new InsufficientDataException($"Group '{lone}' has a single reading, and a scatter of its own needs two.");
        CovarianceBlocks data = new([.. y], new OrthonormalColumns([.. columns.Select(c => c.ToArray())], names), [.. terms], scatter, likelihood == Likelihood.Restricted);
        double[] parameters = data.Start();
        bool ofFitted = scatter is ScatterModel.PowerOfMean { Covariate: null };
        for (int round = 0; round < Rounds; round++)
        {
            (parameters, CovarianceFit at) = Climb(data, parameters);
            if (!ofFitted || data.RenewMeans(at) < 1e-10) return new(data, names, at);
        }
        throw new InsufficientDataException($"The scatter and the mean do not settle in {Rounds} rounds: a mean comes close to 0, or the means hardly differ. Use one scatter for all, or a given covariate.");
    }

    private static (double[] Parameters, CovarianceFit At) Climb(CovarianceBlocks data, double[] start)
    {
        double[] at = start;
        CovarianceFit fit = data.At(at) ?? throw new InsufficientDataException("The readings lie exactly on the fixed part of the model: there is no scatter to model.");
        for (int i = 0; i < Steps; i++)
        {
            (double[] score, double[,] information) = data.InSteps(at, fit);
            double[] step = Solve(information, score);
            double gain = 0;
            for (int k = 0; k < step.Length; k++) gain += step[k] * score[k];
            if (gain < 1e-18) return (at, fit);
            if (Along(data, at, step, fit) is not { } next) return (at, fit);
            (at, fit) = next;
        }
        return (at, fit);
    }

    private static (double[], CovarianceFit)? Along(CovarianceBlocks data, double[] at, double[] step, CovarianceFit from)
    {
        double fraction = 1;
        for (int halving = 0; halving < 40; halving++, fraction /= 2)
        {
            double[] next = [.. at.Select((v, k) => v + fraction * step[k])];
            if (data.At(next) is { } fit && fit.LogLikelihood > from.LogLikelihood) return (next, fit);
        }
        return null;
    }

    /// <summary>The information may be singular where a variance is 0; a little is then added to its diagonal.</summary>
    private static double[] Solve(double[,] information, double[] score)
    {
        double ridge = 0, largest = Enumerable.Range(0, score.Length).Max(k => information[k, k]);
        while (true)
        {
            double[,] damped = (double[,])information.Clone();
            for (int k = 0; k < score.Length; k++) damped[k, k] += ridge * largest;
            if (CholeskyFactor.Of(damped) is { } factor) return factor.Solve(score);
            ridge = ridge == 0 ? 1e-10 : 10 * ridge;
        }
    }
}
