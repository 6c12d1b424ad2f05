using System.Numerics.Tensors;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>The covariance of the readings of an <see cref="UnequalScatterModel"/> in blocks, with its derivatives: likelihood, score and information.</summary>
/// <remarks>Natural parameters are the elements of each G (lower triangle), σ², and the scatter's own δ; V is linear in all but δ. Steps are taken in the triangle L of G = LL', ln σ and δ.</remarks>
internal sealed class CovarianceBlocks
{
    private readonly double[] _y, _along;
    private readonly RandomCoefficients[] _terms;
    private readonly ScatterModel _scatter;
    private readonly bool _restricted;
    private readonly int[][] _blocks;
    private readonly int[] _start;
    private double[] _logMean;

    public CovarianceBlocks(double[] y, OrthonormalColumns design, RandomCoefficients[] terms, ScatterModel scatter, bool restricted)
    {
        (_y, Design, _terms, _scatter, _restricted) = (y, design, terms, scatter, restricted);
        double[] residual = (double[])y.Clone();
        _along = design.Project(residual);
        Residual = residual;
        _blocks = Connected(y.Length, terms);
        _start = new int[terms.Length + 1];
        for (int k = 0; k < terms.Length; k++) _start[k + 1] = _start[k] + terms[k].Width * (terms[k].Width + 1) / 2;
        Parameters = _start[^1] + 1 + scatter.Parameters;
        _logMean = scatter is ScatterModel.PowerOfMean p ? Logs(p.Covariate ?? [.. y.Select((v, i) => v - residual[i])]) : [];
    }

    public OrthonormalColumns Design { get; }

    /// <summary>Readings less their ordinary fit; the coefficients of the orthonormal design are found on these, which keeps their digits.</summary>
    public double[] Residual { get; }

    public double[] Along => _along;

    public double[] Readings => _y;

    public IReadOnlyList<RandomCoefficients> Terms => _terms;

    public ScatterModel Scatter => _scatter;

    public bool IsRestricted => _restricted;

    public int Parameters { get; }

    public int Sigma => _start[^1];

    public int StartOf(int term) => _start[term];

    public double[] Start()
    {
        double sd = Math.Sqrt(TensorPrimitives.Dot<double>(Residual, Residual) / (_y.Length - Design.Q.Length));
        double[] at = new double[Parameters];
        for (int k = 0; k < _terms.Length; k++)
            for (int a = 0, i = _start[k]; a < _terms[k].Width; a++, i += a + 1)
                at[i] = 0.7 * sd / Math.Sqrt(Enumerable.Range(0, _y.Length).Average(r => Math.Pow(_terms[k].Value(a, r), 2)));
        at[Sigma] = Math.Log(0.7 * sd);
        if (sd > 0) return at;
        throw new InsufficientDataException("The readings lie exactly on the fixed part of the model: there is no scatter to model.");
    }

    /// <summary>The fit at a point of the steps' parameters; null where V is not positive definite.</summary>
    public CovarianceFit? At(double[] steps)
    {
        double[][,] g = [.. Enumerable.Range(0, _terms.Length).Select(k => Covariance(steps, k))];
        double sigma = Math.Exp(steps[Sigma]);
        double[] sd = new double[_y.Length];
        for (int i = 0; i < sd.Length; i++)
        {
            double log = 0;
            for (int d = 0; d < _scatter.Parameters; d++) log += steps[Sigma + 1 + d] * _scatter.Slope(d, i, _logMean);
            sd[i] = sigma * Math.Exp(log);
        }
        return CovarianceFit.Of(this, _blocks, g, sigma, [.. steps.Skip(Sigma + 1)], sd);
    }

    /// <summary>Score and expected information in the steps' parameters.</summary>
    public (double[] Score, double[,] Information) InSteps(double[] steps, CovarianceFit fit)
    {
        double[,] jacobian = new double[Parameters, Parameters];
        for (int k = 0; k < _terms.Length; k++)
            for (int a = 0, i = _start[k]; a < _terms[k].Width; a++)
                for (int b = 0; b <= a; b++, i++) FillTriangle(jacobian, steps, k, a, b, i);
        jacobian[Sigma, Sigma] = 2 * fit.Sigma * fit.Sigma;
        for (int d = Sigma + 1; d < Parameters; d++) jacobian[d, d] = 1;
        double[] score = new double[Parameters];
        double[,] information = new double[Parameters, Parameters];
        for (int i = 0; i < Parameters; i++)
            for (int j = 0; j < Parameters; j++)
            {
                score[i] += jacobian[j, i] * fit.Score[j];
                for (int a = 0; a < Parameters; a++)
                    for (int b = 0; b < Parameters; b++) information[i, j] += jacobian[a, i] * fit.Expected[a, b] * jacobian[b, j];
            }
        return (score, information);
    }

    /// <summary>Takes the fitted means, random effects among them, as the covariate of the power; gives the largest change of their logarithms.</summary>
    public double RenewMeans(CovarianceFit fit)
    {
        double[] renewed = Logs(fit.ConditionalMeans());
        double moved = 0;
        for (int i = 0; i < renewed.Length; i++) moved = Math.Max(moved, Math.Abs(renewed[i] - _logMean[i]));
        _logMean = renewed;
        return moved;
    }

    /// <summary>∂V/∂parameter between two readings of a block.</summary>
    public double Derivative(int parameter, int i, int j, double[] sd, double sigma)
    {
        if (parameter < Sigma)
        {
            int k = Array.FindLastIndex(_start, s => s <= parameter), at = parameter - _start[k], a = 0;
            while (at > a) at -= ++a;
            RandomCoefficients term = _terms[k];
            if (term.Factor.Level[i] != term.Factor.Level[j]) return 0;
            double product = term.Value(a, i) * term.Value(at, j);
            return a == at ? product : product + term.Value(at, i) * term.Value(a, j);
        }
        if (i != j) return 0;
        double variance = sd[i] * sd[i];
        return parameter == Sigma ? variance / (sigma * sigma) : 2 * variance * _scatter.Slope(parameter - Sigma - 1, i, _logMean);
    }

    /// <summary>∂²V/∂a∂b on the diagonal; 0 unless the scatter's own parameters are among them.</summary>
    public double SecondDerivative(int a, int b, int i, double[] sd, double sigma)
    {
        (int low, int high) = a < b ? (a, b) : (b, a);
        if (high <= Sigma || low < Sigma) return 0;
        double first = 2 * _scatter.Slope(high - Sigma - 1, i, _logMean) * sd[i] * sd[i];
        return low == Sigma ? first / (sigma * sigma) : first * 2 * _scatter.Slope(low - Sigma - 1, i, _logMean);
    }

    private double[,] Covariance(double[] steps, int term)
    {
        int q = _terms[term].Width;
        double[,] l = new double[q, q], g = new double[q, q];
        for (int a = 0, i = _start[term]; a < q; a++)
            for (int b = 0; b <= a; b++) l[a, b] = steps[i++];
        for (int a = 0; a < q; a++)
            for (int b = 0; b < q; b++)
                for (int c = 0; c <= Math.Min(a, b); c++) g[a, b] += l[a, c] * l[b, c];
        return g;
    }

    /// <summary>∂G_rs/∂L_ab = δ_ra L_sb + δ_sa L_rb.</summary>
    private void FillTriangle(double[,] jacobian, double[] steps, int term, int a, int b, int parameter)
    {
        int q = _terms[term].Width;
        double L(int row, int column) => column > row ? 0 : steps[_start[term] + row * (row + 1) / 2 + column];
        for (int r = 0, i = _start[term]; r < q; r++)
            for (int s = 0; s <= r; s++, i++)
                jacobian[i, parameter] = (r == a ? L(s, b) : 0) + (s == a ? L(r, b) : 0);
    }

    private static double[] Logs(IReadOnlyList<double> means)
    {
        for (int i = 0; i < means.Count; i++)
            if (means[i] == 0) throw new InsufficientDataException($"The mean of reading {i} is 0, and no power of 0 is a standard deviation.");
        return [.. means.Select(m => Math.Log(Math.Abs(m)))];
    }

    /// <summary>Readings joined by a level of any factor.</summary>
    private static int[][] Connected(int n, RandomCoefficients[] terms)
    {
        int[] root = [.. Enumerable.Range(0, n)];
        int Find(int i)
        {
            while (root[i] != i) i = root[i] = root[root[i]];
            return i;
        }
        foreach (RandomCoefficients term in terms)
        {
            int[] first = [.. Enumerable.Repeat(-1, term.Factor.Labels.Count)];
            for (int i = 0; i < n; i++)
            {
                int level = term.Factor.Level[i];
                if (first[level] < 0) first[level] = i; else root[Find(i)] = Find(first[level]);
            }
        }
        return [.. Enumerable.Range(0, n).GroupBy(Find).Select(b => b.ToArray())];
    }
}
