using System.Globalization;
using MathNet.Numerics.RootFinding;

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
/// <para><b>Computation.</b> For given v the exponent solves the exact (restricted) likelihood score
/// Σ t_i(r_i²w_i/σ² - 1 + h_i) = 0 with t = ln|v| or v and leverages h. With fitted values v, fit and exponent alternate to a fixed point;
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
        for (int round = 0; round < 100; round++)
        {
            double next = solver.Exponent(t, delta);
            double change = Math.Abs(next - delta);
            delta = next;
            if (covariate is not null || (round > 0 && change < 1e-11)) break;
            t = Logs(solver.FittedAt(t, delta), trend);
        }
        return solver.Result(t, delta, trend, covariate is null);
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

        /// <summary>Fitted values with weights exp(-2δt).</summary>
        public double[] FittedAt(double[] t, double delta)
        {
            Weigh(t, delta);
            return [.. Enumerable.Range(0, _n).Select(Fitted)];
        }

        public double Exponent(double[] t, double start)
        {
            double Score(double d) => ScoreAt(t, d);
            double step = 0.1 / Spread(t), low = start - step, high = start + step;
            for (int i = 0; i < 60 && Score(low) < 0; i++) (high, low, step) = (low, low - 2 * step, 2 * step);
            for (int i = 0; i < 60 && Score(high) > 0; i++) (low, high, step) = (high, high + 2 * step, 2 * step);
            return Brent.FindRoot(Score, low, high, 1e-12 * Math.Max(1, Math.Abs(high)), 200);
        }

        public ScatterTrendFit Result(double[] t, double delta, ScatterTrend trend, bool ofFitted)
        {
            double h = 1e-4 / Spread(t);
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

        private static double Spread(double[] t)
        {
            double mean = t.Average();
            return Math.Sqrt(t.Average(x => (x - mean) * (x - mean)));
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

        private double ScoreAt(double[] t, double delta)
        {
            Weigh(t, delta);
            double sigma2 = _squares / Freedom, score = 0;
            Span<double> q = stackalloc double[_p];
            for (int i = 0; i < _n; i++)
            {
                double r = y[i] - Fitted(i), leverage = 0;
                if (restricted)
                {
                    _rows.AsSpan(i * _p, _p).CopyTo(q);
                    _information.Forward(q);
                    for (int j = 0; j < _p; j++) leverage += q[j] * q[j];
                    leverage *= _w[i];
                }
                score += t[i] * (r * r * _w[i] / sigma2 - 1 + leverage);
            }
            return score;
        }

        private void Weigh(double[] t, double delta)
        {
            double[,] information = new double[_p, _p];
            double[] rhs = new double[_p];
            for (int i = 0; i < _n; i++)
            {
                double w = _w[i] = Math.Exp(-2 * delta * t[i]);
                ReadOnlySpan<double> q = _rows.AsSpan(i * _p, _p);
                for (int a = 0; a < q.Length; a++)
                {
                    double wq = w * q[a];
                    rhs[a] += wq * y[i];
                    for (int b = 0; b <= a; b++) information[a, b] += wq * q[b];
                }
            }
            _information = CholeskyFactor.Of(information)
                ?? throw new InsufficientDataException("The weights of the scatter trend leave a coefficient without information. Use a narrower range of the covariate.");
            _b = _information.Solve(rhs);
            _squares = 0;
            for (int i = 0; i < _n; i++)
            {
                double r = y[i] - Fitted(i);
                _squares += _w[i] * r * r;
            }
        }

        private double Fitted(int i)
        {
            double sum = 0;
            ReadOnlySpan<double> q = _rows.AsSpan(i * _p, _p);
            for (int j = 0; j < q.Length; j++) sum += q[j] * _b[j];
            return sum;
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
