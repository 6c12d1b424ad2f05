namespace Meltwise.Statistics.LeastSquares;

/// <summary>Mean, standard deviation and lag-1 autocorrelation of one series.</summary>
/// <remarks><b>Computation.</b> Shifted by the first value, then a corrected two-pass sum of squares. <b>Source.</b> [ChanGolubLeVeque1983].</remarks>
public static class Univariate
{
    /// <summary>The three numbers; needs at least 2 values.</summary>
    public static (double Mean, double StandardDeviation, double LagOneAutocorrelation) Of(IReadOnlyList<double> y)
    {
        ArgumentNullException.ThrowIfNull(y);
        if (y.Count < 2) throw new InsufficientDataException($"A standard deviation needs at least 2 readings; got {y.Count}.");
        double origin = y[0], shift = y.Sum(v => v - origin) / y.Count;
        double squares = 0, residual = 0, products = 0, last = 0;
        for (int i = 0; i < y.Count; i++)
        {
            double d = y[i] - origin - shift;
            squares += d * d;
            residual += d;
            if (i > 0) products += d * last;
            last = d;
        }
        double corrected = squares - residual * residual / y.Count;
        return (origin + shift, Math.Sqrt(corrected / (y.Count - 1)), products / corrected);
    }
}
