using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>Generalized least squares at given covariances, with score and information of the (restricted) likelihood in the natural parameters.</summary>
internal sealed class CovarianceFit
{
    private readonly CovarianceBlocks _data;
    private readonly Block[] _blocks;

    private CovarianceFit(CovarianceBlocks data, Block[] blocks, double[][,] g, double sigma, double[] delta, double[] sd)
    {
        (_data, _blocks, G, Sigma, Delta, Sd) = (data, blocks, g, sigma, delta, sd);
        Coefficients = new double[data.Design.Q.Length];
        (Score, Expected, Observed) = (new double[data.Parameters], new double[data.Parameters, data.Parameters], new double[data.Parameters, data.Parameters]);
        CoefficientInformation = new double[Coefficients.Length, Coefficients.Length];
        Covariance = CoefficientInformation;
    }

    public double[][,] G { get; }
    public double Sigma { get; }
    public double[] Delta { get; }

    /// <summary>Residual standard deviation of each reading.</summary>
    public double[] Sd { get; }

    /// <summary>Coefficients of the orthonormal design, of the readings less their ordinary fit.</summary>
    public double[] Coefficients { get; private set; }

    public double[,] CoefficientInformation { get; }

    /// <summary>Their covariance C.</summary>
    public double[,] Covariance { get; private set; }

    public double LogLikelihood { get; private set; }
    public double[] Score { get; }
    public double[,] Expected { get; }
    public double[,] Observed { get; }

    /// <summary>X'WV_iWX.</summary>
    public double[][,] First { get; private set; } = [];

    private sealed class Block(int[] rows, double[,] inverse, double logDeterminant)
    {
        public int[] Rows { get; } = rows;

        public double[,] Inverse { get; } = inverse;

        public double LogDeterminant { get; } = logDeterminant;

        /// <summary>W r.</summary>
        public double[] Pulled { get; set; } = [];

        /// <summary>W X.</summary>
        public double[,] Weighted { get; set; } = new double[0, 0];
    }

    public static CovarianceFit? Of(CovarianceBlocks data, int[][] rows, double[][,] g, double sigma, double[] delta, double[] sd)
    {
        Block[] blocks = new Block[rows.Length];
        for (int b = 0; b < rows.Length; b++)
        {
            int[] r = rows[b];
            double[,] v = new double[r.Length, r.Length];
            for (int i = 0; i < r.Length; i++)
                for (int j = 0; j < r.Length; j++)
                    v[i, j] = Between(data, g, r[i], r[j]) + (i == j ? sd[r[i]] * sd[r[i]] : 0);
            if (CholeskyFactor.Of(v) is not { } factor) return null;
            blocks[b] = new(r, factor.Inverse(), factor.LogDeterminant);
        }
        CovarianceFit fit = new(data, blocks, g, sigma, delta, sd);
        if (!fit.Solve()) return null;
        fit.Differentiate();
        return fit;
    }

    private static double Between(CovarianceBlocks data, double[][,] g, int i, int j)
    {
        double sum = 0;
        for (int k = 0; k < g.Length; k++)
        {
            RandomCoefficients term = data.Terms[k];
            if (term.Factor.Level[i] != term.Factor.Level[j]) continue;
            for (int a = 0; a < term.Width; a++)
                for (int b = 0; b < term.Width; b++) sum += term.Value(a, i) * g[k][a, b] * term.Value(b, j);
        }
        return sum;
    }

    private bool Solve()
    {
        int p = Coefficients.Length;
        double[][] q = _data.Design.Q;
        double[] rhs = new double[p];
        double log = 0;
        foreach (Block b in _blocks)
        {
            int n = b.Rows.Length;
            b.Weighted = new double[n, p];
            for (int i = 0; i < n; i++)
                for (int c = 0; c < p; c++)
                    for (int j = 0; j < n; j++) b.Weighted[i, c] += b.Inverse[i, j] * q[c][b.Rows[j]];
            for (int c = 0; c < p; c++)
                for (int i = 0; i < n; i++)
                {
                    rhs[c] += b.Weighted[i, c] * _data.Residual[b.Rows[i]];
                    for (int d = 0; d < p; d++) CoefficientInformation[c, d] += b.Weighted[i, c] * q[d][b.Rows[i]];
                }
            log += b.LogDeterminant;
        }
        if (CholeskyFactor.Of(CoefficientInformation) is not { } factor) return false;
        (Covariance, Coefficients) = (factor.Inverse(), factor.Solve(rhs));
        double squares = 0;
        foreach (Block b in _blocks)
        {
            int n = b.Rows.Length;
            double[] r = [.. b.Rows.Select(Marginal)];
            b.Pulled = new double[n];
            for (int i = 0; i < n; i++)
            {
                for (int j = 0; j < n; j++) b.Pulled[i] += b.Inverse[i, j] * r[j];
                squares += r[i] * b.Pulled[i];
            }
        }
        int free = _data.IsRestricted ? _data.Readings.Length - p : _data.Readings.Length;
        double logDesign = 0;
        if (_data.IsRestricted)
        {
            logDesign = factor.LogDeterminant;
            for (int c = 0; c < p; c++) logDesign += 2 * Math.Log(_data.Design.R[c, c]);
        }
        LogLikelihood = -0.5 * (free * Math.Log(2 * Math.PI) + log + logDesign + squares);
        return double.IsFinite(LogLikelihood);
    }

    /// <summary>Reading less the fixed part.</summary>
    private double Marginal(int row)
    {
        double fitted = 0;
        for (int c = 0; c < Coefficients.Length; c++) fitted += Coefficients[c] * _data.Design.Q[c][row];
        return _data.Residual[row] - fitted;
    }

    private void Differentiate()
    {
        int m = _data.Parameters, p = Coefficients.Length;
        First = [.. Enumerable.Range(0, m).Select(_ => new double[p, p])];
        double[] quadratic = new double[m], trace = new double[m];
        double[,] traces = new double[m, m], quadratics = new double[m, m];
        double[][] pulledDesign = [.. Enumerable.Range(0, m).Select(_ => new double[p])];
        double[,][,] second = new double[m, m][,];
        for (int a = 0; a < m; a++) for (int b = 0; b <= a; b++) second[a, b] = new double[p, p];
        foreach (Block block in _blocks) Gather(block, quadratic, trace, traces, quadratics, pulledDesign, second);
        for (int a = 0; a < m; a++)
        {
            Score[a] = 0.5 * (quadratic[a] - trace[a] + (_data.IsRestricted ? Trace(Covariance, First[a]) : 0));
            for (int b = 0; b <= a; b++)
            {
                double expected = traces[a, b];
                if (_data.IsRestricted) expected += -2 * Trace(Covariance, second[a, b]) + TraceOfFour(First[a], First[b]);
                double average = quadratics[a, b];
                for (int c = 0; c < p; c++)
                    for (int d = 0; d < p; d++) average -= pulledDesign[a][c] * Covariance[c, d] * pulledDesign[b][d];
                Expected[a, b] = Expected[b, a] = 0.5 * expected;
                Observed[a, b] = Observed[b, a] = average - 0.5 * expected + Bend(a, b);
            }
        }
    }

    /// <summary>Products of one block: tr(WV_a), r'WV_aWr, tr(WV_aWV_b), r'WV_aWV_bWr, X'WV_aWX and X'WV_bWV_aWX.</summary>
    private void Gather(Block block, double[] quadratic, double[] trace, double[,] traces, double[,] quadratics, double[][] pulledDesign, double[,][,] second)
    {
        int n = block.Rows.Length, m = _data.Parameters, p = Coefficients.Length;
        double[][,] slope = [.. Enumerable.Range(0, m).Select(a => Slope(block.Rows, a))], weighted = [.. slope.Select(v => Times(v, block.Inverse))];
        double[][,] design = [.. slope.Select(v => Times(v, block.Weighted))];
        double[][] pulled = [.. slope.Select(v => Times(v, block.Pulled))];
        for (int a = 0; a < m; a++)
        {
            for (int i = 0; i < n; i++)
            {
                trace[a] += weighted[a][i, i];
                quadratic[a] += block.Pulled[i] * pulled[a][i];
                for (int c = 0; c < p; c++)
                {
                    pulledDesign[a][c] += block.Weighted[i, c] * pulled[a][i];
                    for (int d = 0; d < p; d++) First[a][c, d] += block.Weighted[i, c] * design[a][i, d];
                }
            }
            double[,] through = Times(block.Inverse, design[a]);
            double[] across = Times(block.Inverse, pulled[a]);
            for (int b = 0; b <= a; b++)
            {
                for (int i = 0; i < n; i++)
                {
                    quadratics[a, b] += across[i] * pulled[b][i];
                    for (int j = 0; j < n; j++) traces[a, b] += weighted[a][i, j] * weighted[b][j, i];
                    for (int c = 0; c < p; c++)
                        for (int d = 0; d < p; d++) second[a, b][c, d] += design[b][i, c] * through[i, d];
                }
            }
        }
        _second = second;
    }

    private double[,][,] _second = new double[0, 0][,];

    /// <summary>X'WV_aWV_bWX; the other order is its transpose.</summary>
    public double[,] Second(int a, int b) => a >= b ? Transposed(_second[a, b]) : _second[b, a];

    /// <summary>X'WV_abWX.</summary>
    public double[,] Bent(int a, int b)
    {
        int p = Coefficients.Length;
        double[,] bent = new double[p, p];
        foreach (Block block in _blocks)
            for (int i = 0; i < block.Rows.Length; i++)
                if (_data.SecondDerivative(a, b, block.Rows[i], Sd, Sigma) is not 0 and var v)
                    for (int c = 0; c < p; c++)
                        for (int d = 0; d < p; d++) bent[c, d] += block.Weighted[i, c] * v * block.Weighted[i, d];
        return bent;
    }

    /// <summary>Readings' means with the predicted random effects.</summary>
    public double[] ConditionalMeans()
    {
        double[] means = new double[_data.Readings.Length];
        foreach (Block block in _blocks)
            for (int i = 0; i < block.Rows.Length; i++)
            {
                // y - mean = R W r for the residual part R of V.
                int row = block.Rows[i];
                means[row] = _data.Readings[row] - Sd[row] * Sd[row] * block.Pulled[i];
            }
        return means;
    }

    /// <summary>Conditional residuals over their standard errors: R P y over the root of its variance R P R.</summary>
    public double[] StudentizedResiduals()
    {
        double[] residuals = new double[_data.Readings.Length];
        foreach (Block block in _blocks)
            for (int i = 0; i < block.Rows.Length; i++)
            {
                double variance = block.Inverse[i, i];
                for (int c = 0; c < Coefficients.Length; c++)
                    for (int d = 0; d < Coefficients.Length; d++) variance -= block.Weighted[i, c] * Covariance[c, d] * block.Weighted[i, d];
                residuals[block.Rows[i]] = block.Pulled[i] / Math.Sqrt(variance);
            }
        return residuals;
    }

    /// <summary>½(tr(P V_ab) − y'P V_ab P y).</summary>
    private double Bend(int a, int b)
    {
        double sum = 0;
        foreach (Block block in _blocks)
            for (int i = 0; i < block.Rows.Length; i++)
                if (_data.SecondDerivative(a, b, block.Rows[i], Sd, Sigma) is not 0 and var v) sum += v * (block.Inverse[i, i] - block.Pulled[i] * block.Pulled[i]);
        if (sum != 0 && _data.IsRestricted) sum -= Trace(Covariance, Bent(a, b));
        return 0.5 * sum;
    }

    private double[,] Slope(int[] rows, int parameter)
    {
        double[,] slope = new double[rows.Length, rows.Length];
        for (int i = 0; i < rows.Length; i++)
            for (int j = 0; j < rows.Length; j++) slope[i, j] = _data.Derivative(parameter, rows[i], rows[j], Sd, Sigma);
        return slope;
    }

    /// <summary>tr(CA CB).</summary>
    private double TraceOfFour(double[,] a, double[,] b) => Trace(Times(Times(Covariance, a), Covariance), b);

    private static double Trace(double[,] a, double[,] b)
    {
        double sum = 0;
        for (int i = 0; i < a.GetLength(0); i++)
            for (int j = 0; j < a.GetLength(1); j++) sum += a[i, j] * b[j, i];
        return sum;
    }

    internal static double[,] Times(double[,] a, double[,] b)
    {
        int n = a.GetLength(0), m = a.GetLength(1), p = b.GetLength(1);
        double[,] product = new double[n, p];
        for (int i = 0; i < n; i++)
            for (int k = 0; k < m; k++)
                if (a[i, k] is not 0 and var v)
                    for (int j = 0; j < p; j++) product[i, j] += v * b[k, j];
        return product;
    }

    internal static double[] Times(double[,] a, double[] x)
    {
        double[] product = new double[x.Length];
        for (int i = 0; i < x.Length; i++)
            for (int j = 0; j < x.Length; j++) product[i] += a[i, j] * x[j];
        return product;
    }

    private static double[,] Transposed(double[,] a)
    {
        int n = a.GetLength(0);
        double[,] t = new double[n, n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++) t[i, j] = a[j, i];
        return t;
    }
}
