namespace Meltwise.Statistics.ErrorsInVariables;

/// <summary>Straight line through points that are uncertain in both variables, errors of a point correlated or not.</summary>
/// <remarks>
/// <para><b>Method.</b> York's unified equations, iterated to a fixed point; standard errors at the adjusted points.</para>
/// <para><b>Limits.</b> At least 3 points with known standard uncertainties above 0 and |r| &lt; 1. χ² far from its degrees of freedom says that the
/// uncertainties do not explain the scatter; then the scaled standard errors are the honest ones.</para>
/// <para><b>Source.</b> [YorkEtAl2004].</para>
/// </remarks>
public static class YorkLine
{
    /// <summary>Fits y = a + b·x.</summary>
    /// <param name="x">Abscissae.</param>
    /// <param name="y">Ordinates.</param>
    /// <param name="ux">Standard uncertainties of x.</param>
    /// <param name="uy">Standard uncertainties of y.</param>
    /// <param name="correlation">Correlation of the two errors of a point.</param>
    public static LineFit Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, IReadOnlyList<double> ux, IReadOnlyList<double> uy, double correlation = 0)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(ux);
        ArgumentNullException.ThrowIfNull(uy);
        int n = x.Count;
        if (n < 3) throw new InsufficientDataException($"A line with errors in both variables needs at least 3 points; got {n}.");
        if (ux.Any(u => !(u > 0)) || uy.Any(u => !(u > 0)) || Math.Abs(correlation) >= 1)
            throw new ArgumentException("Every point needs uncertainties above 0 in both variables and a correlation below 1.", nameof(ux));

        double slope = OrdinarySlope(x, y);
        Step step = default;
        for (int i = 0; i < 1000; i++)
        {
            step = Step.At(slope, x, y, ux, uy, correlation);
            double change = Math.Abs(step.Slope - slope);
            slope = step.Slope;
            if (change <= 1e-15 * Math.Abs(slope)) break;
        }
        step = Step.At(slope, x, y, ux, uy, correlation);
        return step.Result(x, y);
    }

    private static double OrdinarySlope(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        double mx = x.Average(), my = y.Average();
        return x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum() / x.Sum(a => (a - mx) * (a - mx));
    }

    private readonly record struct Step(double Slope, double MeanX, double MeanY, double[] Weight, double[] Beta)
    {
        public static Step At(double b, IReadOnlyList<double> x, IReadOnlyList<double> y, IReadOnlyList<double> ux, IReadOnlyList<double> uy, double r)
        {
            int n = x.Count;
            double[] w = new double[n], beta = new double[n];
            double sum = 0, sx = 0, sy = 0;
            for (int i = 0; i < n; i++)
            {
                w[i] = 1 / (uy[i] * uy[i] + b * b * ux[i] * ux[i] - 2 * b * r * ux[i] * uy[i]);
                sum += w[i];
                sx += w[i] * x[i];
                sy += w[i] * y[i];
            }
            double mx = sx / sum, my = sy / sum, top = 0, bottom = 0;
            for (int i = 0; i < n; i++)
            {
                double u = x[i] - mx, v = y[i] - my;
                beta[i] = w[i] * (u * uy[i] * uy[i] + b * v * ux[i] * ux[i] - (b * u + v) * r * ux[i] * uy[i]);
                top += w[i] * beta[i] * v;
                bottom += w[i] * beta[i] * u;
            }
            return new(top / bottom, mx, my, w, beta);
        }

        public LineFit Result(IReadOnlyList<double> x, IReadOnlyList<double> y)
        {
            double sum = Weight.Sum(), meanBeta = 0;
            for (int i = 0; i < Weight.Length; i++) meanBeta += Weight[i] * Beta[i] / sum;
            double squares = 0, chi = 0, intercept = MeanY - Slope * MeanX, adjusted = MeanX + meanBeta;
            for (int i = 0; i < Weight.Length; i++)
            {
                double u = Beta[i] - meanBeta, r = y[i] - intercept - Slope * x[i];
                squares += Weight[i] * u * u;
                chi += Weight[i] * r * r;
            }
            double variance = 1 / squares;
            return new(Slope, intercept, Math.Sqrt(variance), Math.Sqrt(1 / sum + adjusted * adjusted * variance), -adjusted * variance, chi, Weight.Length - 2);
        }
    }
}

/// <summary>A fitted straight line.</summary>
/// <param name="Slope">Slope.</param>
/// <param name="Intercept">Intercept.</param>
/// <param name="SlopeStandardError">From the stated uncertainties alone.</param>
/// <param name="InterceptStandardError">Likewise.</param>
/// <param name="Covariance">Covariance of intercept and slope.</param>
/// <param name="ChiSquared">Weighted squares about the line.</param>
/// <param name="DegreesOfFreedom">Points less 2.</param>
public sealed record LineFit(double Slope, double Intercept, double SlopeStandardError, double InterceptStandardError, double Covariance, double ChiSquared, int DegreesOfFreedom)
{
    /// <summary>p value of "the uncertainties explain the scatter".</summary>
    public double FitP => Distributions.ChiSquared.UpperTail(ChiSquared, DegreesOfFreedom);

    /// <summary>Slope standard error scaled to the scatter seen.</summary>
    public double ScaledSlopeStandardError => SlopeStandardError * Math.Sqrt(ChiSquared / DegreesOfFreedom);

    /// <summary>Intercept standard error scaled to the scatter seen.</summary>
    public double ScaledInterceptStandardError => InterceptStandardError * Math.Sqrt(ChiSquared / DegreesOfFreedom);
}
