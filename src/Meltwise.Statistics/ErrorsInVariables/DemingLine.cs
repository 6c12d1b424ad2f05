namespace Meltwise.Statistics.ErrorsInVariables;

/// <summary>Straight line where only the ratio of the two error variances is known.</summary>
/// <remarks><b>Formula.</b> b = (S_yy - λS_xx + √((S_yy - λS_xx)² + 4λS_xy²))/(2S_xy) with λ = error variance of y over that of x; standard errors by the
/// jackknife. <b>Limits.</b> At least 3 points, one ratio for all. <b>Source.</b> [Deming1943]; jackknife [Linnet1990].</remarks>
public static class DemingLine
{
    /// <summary>Fits y = a + b·x.</summary>
    /// <param name="x">Abscissae.</param>
    /// <param name="y">Ordinates.</param>
    /// <param name="ratio">λ, error variance of y over error variance of x; above 0.</param>
    public static (double Slope, double Intercept, double SlopeStandardError, double InterceptStandardError) Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, double ratio)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ratio);
        int n = x.Count;
        if (n < 3) throw new InsufficientDataException($"A line with errors in both variables needs at least 3 points; got {n}.");
        (double slope, double intercept) = Line(x, y, ratio, -1);
        double[] slopes = new double[n], intercepts = new double[n];
        for (int i = 0; i < n; i++)
        {
            (double b, double a) = Line(x, y, ratio, i);
            slopes[i] = n * slope - (n - 1) * b;
            intercepts[i] = n * intercept - (n - 1) * a;
        }
        return (slope, intercept, Error(slopes), Error(intercepts));
    }

    private static (double Slope, double Intercept) Line(IReadOnlyList<double> x, IReadOnlyList<double> y, double ratio, int without)
    {
        int n = 0;
        double mx = 0, my = 0, xx = 0, yy = 0, xy = 0;
        for (int i = 0; i < x.Count; i++)
        {
            if (i == without) continue;
            n++;
            double dx = x[i] - mx, dy = y[i] - my;
            mx += dx / n;
            my += dy / n;
            xx += dx * (x[i] - mx);
            yy += dy * (y[i] - my);
            xy += dx * (y[i] - my);
        }
        double half = yy - ratio * xx, root = Math.Sqrt(half * half + 4 * ratio * xy * xy);

        // The two forms are equal; the one without cancellation is taken.
        double slope = half > 0 ? (half + root) / (2 * xy) : 2 * ratio * xy / (root - half);
        return (slope, my - slope * mx);
    }

    private static double Error(double[] pseudo)
    {
        double mean = pseudo.Average();
        return Math.Sqrt(pseudo.Sum(p => (p - mean) * (p - mean)) / (pseudo.Length * (pseudo.Length - 1.0)));
    }
}
