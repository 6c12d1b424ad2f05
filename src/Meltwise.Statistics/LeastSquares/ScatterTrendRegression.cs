using System.Globalization;

namespace Meltwise.Statistics.LeastSquares;

/// <summary>How the standard deviation moves with a covariate.</summary>
public enum ScatterTrend
{
    /// <summary>SD = σ·|v|^δ.</summary>
    Power,

    /// <summary>SD = σ·exp(δ v).</summary>
    Exponential,
}

/// <summary>Generalized least squares with a standard deviation that follows a power or exponential of a covariate or of the fitted mean.</summary>
/// <remarks>
/// <para><b>Model.</b> y = Xb + e, SD(e_i) = σ·g(v_i; δ), v given or the fitted value itself.</para>
/// <para><b>Computation.</b> The exponent solves the exact (restricted) likelihood score Σ t_i(r_i²w_i/σ² - 1 + h_i) = 0 with t = ln|v| or v
/// and leverages h, by scoring with the expected information 2Σ(t - t̄)². With fitted values v the same loop renews t, to the fixed point of both;
/// this is not the joint maximum, but it does not let the mean bend to explain the scatter.</para>
/// <para><b>Limits.</b> More readings than coefficients; for the power no fitted value may be 0.</para>
/// <para><b>Source.</b> [CarrollRuppert1988], ch. 2-3; [PinheiroBates2000], 5.2.</para>
/// </remarks>
public static class ScatterTrendRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="y">Readings.</param>
    /// <param name="columns">Design, intercept included.</param>
    /// <param name="names">Names of the coefficients.</param>
    /// <param name="covariate">v, or null for the fitted mean.</param>
    /// <param name="trend">Power or exponential.</param>
    /// <param name="restricted">Restricted (default) or full maximum likelihood.</param>
    public static ScatterTrendFit Fit(IReadOnlyList<double> y, IReadOnlyList<IReadOnlyList<double>> columns, IReadOnlyList<string> names,
        IReadOnlyList<double>? covariate = null, ScatterTrend trend = ScatterTrend.Power, bool restricted = true)
    {
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(columns);
        if (y.Count <= columns.Count)
            throw new InsufficientDataException($"A regression with {columns.Count} coefficients needs more than {columns.Count} readings; got {y.Count}.");
        Solver solver = new([.. y], new OrthonormalColumns([.. columns.Select(c => c.ToArray())], names), restricted);
        double delta = 0;
        double[] t = Logs(covariate ?? solver.FittedAt(new double[y.Count], 0), trend);
        for (int round = 0; round < Rounds; round++)
        {
            double step = solver.ScoreAt(t, delta) / Information(t);
            delta += Math.Clamp(step, -1, 1);
            double moved = Math.Abs(step);
            if (covariate is null)
            {
                double[] renewed = Logs(solver.Fitted, trend);
                moved = Math.Max(moved, LargestChange(t, renewed));
                t = renewed;
            }
            if (moved < 1e-11) return solver.Result(t, delta, trend, covariate is null);
        }
        throw new InsufficientDataException($"The scatter trend does not settle in {Rounds} rounds: the spread of the means is too small, or a mean comes close to 0. Use readings over a wider range, or a constant scatter.");
    }

    private const int Rounds = 500;

    private static double Information(double[] t)
    {
        double mean = t.Average(), sum = 0;
        foreach (double x in t) sum += (x - mean) * (x - mean);
        return 2 * sum;
    }

    private static double LargestChange(double[] a, double[] b)
    {
        double largest = 0;
        for (int i = 0; i < a.Length; i++) largest = Math.Max(largest, Math.Abs(a[i] - b[i]) / (1 + Math.Abs(a[i])));
        return largest;
    }

    private static double[] Logs(IReadOnlyList<double> v, ScatterTrend trend)
    {
        if (trend == ScatterTrend.Power)
            for (int i = 0; i < v.Count; i++)
                if (v[i] == 0) throw new InsufficientDataException($"The mean of reading {i} is 0, and no power of 0 is a standard deviation. Use the exponential trend.");
        return trend == ScatterTrend.Power ? [.. v.Select(x => Math.Log(Math.Abs(x)))] : [.. v];
    }

    private sealed class Solver(double[] y, OrthonormalColumns design, bool restricted)
    {
        private readonly int _n = y.Length, _p = design.Q.Length;
        private readonly double[] _rows = Rows(design, y.Length);
        private readonly double[] _w = new double[y.Length];
        private CholeskyFactor _information = null!;
        private double[] _b = [];
        private double _squares;

        private int Freedom => restricted ? _n - _p : _n;

        /// <summary>Fitted values of the last weighting.</summary>
        public double[] Fitted { get; } = new double[y.Length];

        /// <summary>Fitted values with weights exp(-2δt).</summary>
        public double[] FittedAt(double[] t, double delta)
        {
            Weigh(t, delta);
            return Fitted;
        }

        public ScatterTrendFit Result(double[] t, double delta, ScatterTrend trend, bool ofFitted)
        {
            double h = 1e-4 / Math.Sqrt(Information(t) / (2 * t.Length));
            double curvature = (ScoreAt(t, delta - h) - ScoreAt(t, delta + h)) / (2 * h);
            double logLikelihood = LogLikelihood(t, delta);
            double sigma2 = _squares / Freedom;
            double[,] inverse = _information.Inverse(), triangle = design.InverseTriangle();
            double[] errors = new double[_p];
            for (int i = 0; i < _p; i++)
                for (int a = 0; a < _p; a++)
                    for (int b = 0; b < _p; b++) errors[i] += triangle[i, a] * inverse[a, b] * triangle[i, b];
            // Standard errors use the residual degrees of freedom under both likelihoods.
            double scale = Math.Sqrt(_squares / (_n - _p));
            return new(design.Coefficients(_b), [.. errors.Select(e => scale * Math.Sqrt(e))], Math.Sqrt(sigma2), delta, 1 / Math.Sqrt(curvature), logLikelihood, trend, ofFitted);
        }

        private double LogLikelihood(double[] t, double delta)
        {
            Weigh(t, delta);
            double logDesign = 0;
            if (restricted)
            {
                logDesign = _information.LogDeterminant;
                for (int j = 0; j < _p; j++) logDesign += 2 * Math.Log(design.R[j, j]);
            }
            return -0.5 * (Freedom * (Math.Log(2 * Math.PI * _squares / Freedom) + 1) + 2 * delta * t.Sum() + logDesign);
        }

        /// <summary>Derivative of the (restricted) log-likelihood in the exponent.</summary>
        public double ScoreAt(double[] t, double delta)
        {
            Weigh(t, delta);
            double sigma2 = _squares / Freedom, score = 0;
            Span<double> q = stackalloc double[_p];
            for (int i = 0; i < _n; i++)
            {
                double r = y[i] - Fitted[i], leverage = 0;
                if (restricted)
                {
                    _rows.AsSpan(i * _p, _p).CopyTo(q);
                    _information.Forward(q);
                    foreach (double c in q) leverage += c * c;
                    leverage *= _w[i];
                }
                score += t[i] * (r * r * _w[i] / sigma2 - 1 + leverage);
            }
            return score;
        }

        private void Weigh(double[] t, double delta)
        {
            double[,] information = new double[_p, _p];
            double[] flat = new double[_p * _p];
            double[] rhs = new double[_p];
            for (int i = 0; i < _n; i++)
            {
                double w = _w[i] = Math.Exp(-2 * delta * t[i]);
                ReadOnlySpan<double> q = _rows.AsSpan(i * _p, _p);
                for (int a = 0; a < q.Length; a++)
                {
                    double wq = w * q[a];
                    rhs[a] += wq * y[i];
                    Span<double> row = flat.AsSpan(a * _p, a + 1);
                    for (int b = 0; b < row.Length; b++) row[b] += wq * q[b];
                }
            }
            Buffer.BlockCopy(flat, 0, information, 0, flat.Length * sizeof(double));
            _information = CholeskyFactor.Of(information)
                ?? throw new InsufficientDataException("The weights of the scatter trend leave a coefficient without information. Use a narrower range of the covariate.");
            _b = _information.Solve(rhs);
            _squares = 0;
            for (int i = 0; i < _n; i++)
            {
                double fitted = 0;
                ReadOnlySpan<double> q = _rows.AsSpan(i * _p, _p);
                for (int j = 0; j < q.Length; j++) fitted += q[j] * _b[j];
                Fitted[i] = fitted;
                double r = y[i] - fitted;
                _squares += _w[i] * r * r;
            }
        }

        private static double[] Rows(OrthonormalColumns design, int n)
        {
            int p = design.Q.Length;
            double[] rows = new double[n * p];
            for (int i = 0; i < n; i++)
                for (int j = 0; j < p; j++) rows[i * p + j] = design.Q[j][i];
            return rows;
        }
    }
}

/// <summary>A regression whose scatter follows a trend.</summary>
/// <param name="Coefficients">Coefficients of the mean.</param>
/// <param name="StandardErrors">Their standard errors, the exponent taken as known.</param>
/// <param name="Sigma">σ of the scatter trend.</param>
/// <param name="Exponent">δ of the scatter trend.</param>
/// <param name="ExponentStandardError">Its standard error, from the curvature of the profile likelihood.</param>
/// <param name="LogLikelihood">(Restricted) log-likelihood at the estimate.</param>
/// <param name="Trend">Power or exponential.</param>
/// <param name="OfFittedMean">True where the covariate is the fitted mean.</param>
public sealed record ScatterTrendFit(double[] Coefficients, double[] StandardErrors, double Sigma, double Exponent, double ExponentStandardError,
    double LogLikelihood, ScatterTrend Trend, bool OfFittedMean)
{
    /// <summary>The scatter law as a sentence.</summary>
    public override string ToString()
    {
        string of = OfFittedMean ? "mean" : "covariate";
        return Trend == ScatterTrend.Power
            ? string.Create(CultureInfo.InvariantCulture, $"standard deviation = {Sigma:G4} × {of}^{Exponent:F3} (standard error of the exponent {ExponentStandardError:G2})")
            : string.Create(CultureInfo.InvariantCulture, $"standard deviation = {Sigma:G4} × exp({Exponent:G3} × {of}) (standard error of the exponent {ExponentStandardError:G2})");
    }
}
