using MathNet.Numerics.RootFinding;

namespace Meltwise.Statistics.Extremes;

/// <summary>Likelihood of a two-parameter Weibull distribution for readings of which some did not fail.</summary>
/// <remarks>
/// <para><b>Formula.</b> ℓ(m, η) = d·ln m − Σ_failed ln x + m·Σ_failed ln(x/η) − Σ (x/η)^m over d failures; η̂(m) = (Σ x^m/d)^(1/m). The signed root of a hypothesis is
/// sign(estimate − hypothesis)·√(2(ℓ̂ − ℓ)), ℓ at its maximum under the hypothesis.</para>
/// <para><b>Source.</b> [Lawless2003], 5.2.</para>
/// </remarks>
internal sealed class WeibullLikelihood
{
    private readonly double[] _logs;
    private readonly double _largest, _failedLogs, _maximum;
    private readonly int _failures;

    /// <summary>Fits the readings.</summary>
    /// <param name="logs">Logarithms of the readings.</param>
    /// <param name="failed">Whether each failed there; at least 2 that differ, or one with readings beyond it.</param>
    public WeibullLikelihood(ReadOnlySpan<double> logs, ReadOnlySpan<bool> failed)
    {
        _largest = double.NegativeInfinity;
        foreach (double l in logs) _largest = Math.Max(_largest, l);
        _logs = new double[logs.Length];
        for (int i = 0; i < logs.Length; i++)
        {
            _logs[i] = logs[i] - _largest;
            if (!failed[i]) continue;
            _failures++;
            _failedLogs += _logs[i];
        }
        Shape = FindShape();
        LogScale = LogScaleAt(Shape);
        _maximum = At(Shape, LogScale);
    }

    /// <summary>m̂.</summary>
    public double Shape { get; }

    /// <summary>ln η̂.</summary>
    public double LogScale { get; }

    /// <summary>ln η of the largest likelihood for a shape.</summary>
    public double LogScaleAt(double shape)
    {
        double sum = 0;
        foreach (double l in _logs) sum += Math.Exp(shape * l);
        return _largest + Math.Log(sum / _failures) / shape;
    }

    /// <summary>The shape of the largest likelihood for a scale.</summary>
    public double ShapeAt(double logScale)
    {
        double shift = _largest - logScale;
        double Score(double m)
        {
            double sum = _failures / m + _failedLogs + _failures * shift;
            foreach (double l in _logs) sum -= (l + shift) * Math.Exp(m * (l + shift));
            return sum;
        }
        double high = Shape, low = Shape;
        while (Score(high) > 0) high *= 2;
        while (Score(low) < 0) low /= 2;
        return low == high ? low : Brent.FindRoot(Score, low, high, 1e-12 * high, 200);
    }

    /// <summary>Signed root of the hypothesis that the shape is so.</summary>
    public double ShapeRoot(double shape) => Root(Shape - shape, At(shape, LogScaleAt(shape)));

    /// <summary>Signed root of the hypothesis that the scale is so.</summary>
    public double ScaleRoot(double logScale) => Root(LogScale - logScale, At(ShapeAt(logScale), logScale));

    private double Root(double direction, double logLikelihood) => Math.Sign(direction) * Math.Sqrt(Math.Max(0, 2 * (_maximum - logLikelihood)));

    /// <summary>Log-likelihood but for the constant −Σ ln x of the failures.</summary>
    private double At(double shape, double logScale)
    {
        double shift = _largest - logScale, sum = _failures * Math.Log(shape) + shape * (_failedLogs + _failures * shift);
        foreach (double l in _logs) sum -= Math.Exp(shape * (l + shift));
        return sum;
    }

    private double FindShape()
    {
        double meanLog = _failedLogs / _failures;
        double Equation(double m)
        {
            double sum = 0, weighted = 0;
            foreach (double l in _logs)
            {
                double w = Math.Exp(m * l);
                sum += w;
                weighted += w * l;
            }
            return weighted / sum - 1 / m - meanLog;
        }
        double high = 1;
        while (Equation(high) < 0) high *= 2;
        double low = high;
        while (Equation(low) > 0) low /= 2;
        return Brent.FindRoot(Equation, low, high, 1e-15 * high, 300);
    }
}
