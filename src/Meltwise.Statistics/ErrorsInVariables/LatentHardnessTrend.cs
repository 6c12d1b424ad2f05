using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Meltwise.Statistics.ErrorsInVariables;

/// <summary>Slope of heat means on their true, unseen hardness: full likelihood of a structural model.</summary>
/// <remarks>
/// <para><b>Model.</b> True hardness ξ ~ N(μ, ω²); read x = ξ + error of known variance u_i²; property y = a + b·ξ + scatter N(0, τ² + v_i) with v_i known.
/// (x, y) of a heat is bivariate normal with Var x = ω² + u_i², Cov = bω², Var y = b²ω² + τ² + v_i.</para>
/// <para><b>Computation.</b> Maximum likelihood over (μ, ω, a, b, τ) by simplex, on standardised data, ω and τ free in sign so that a scatter of 0 is no edge; standard error of b from the profile's curvature.</para>
/// <para><b>Limits.</b> At least 6 heats whose hardness spreads clearly beyond its error. A cross-check of the corrected slope of the verdict, not counted in it:
/// it leans on hardness being normal over heats.</para>
/// <para><b>Source.</b> [Fuller1987], 1.2 and 2.2.</para>
/// </remarks>
public static class LatentHardnessTrend
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Mean hardness of each heat.</param>
    /// <param name="hardnessErrorVariance">Its error variance.</param>
    /// <param name="y">Mean of the property on the analysis scale.</param>
    /// <param name="meanErrorVariance">Its sampling variance.</param>
    public static LatentTrendFit Fit(IReadOnlyList<double> x, IReadOnlyList<double> hardnessErrorVariance, IReadOnlyList<double> y, IReadOnlyList<double> meanErrorVariance)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(hardnessErrorVariance);
        ArgumentNullException.ThrowIfNull(meanErrorVariance);
        if (x.Count < 6) throw new InsufficientDataException($"A trend on unseen hardness needs at least 6 heats; got {x.Count}.");
        Standardised s = new(x, hardnessErrorVariance, y, meanErrorVariance);
        Vector<double> best = Minimise(s.Negative, Vector<double>.Build.DenseOfArray([0, Math.Sqrt(0.7), 0, s.OrdinarySlope, Math.Sqrt(Math.Max(0.05, 1 - s.OrdinarySlope * s.OrdinarySlope))]));

        // Curvature of the profile in the slope: the other four parameters are renewed on both sides.
        double h = 0.05, centre = s.Negative(best);
        double Profile(double slope)
        {
            Vector<double> start = Vector<double>.Build.DenseOfArray([best[0], best[1], best[2], best[4]]);
            double Held(Vector<double> p) => s.Negative(Vector<double>.Build.DenseOfArray([p[0], p[1], p[2], slope, p[3]]));
            return Held(Minimise(Held, start));
        }
        double curvature = (Profile(best[3] + h) + Profile(best[3] - h) - 2 * centre) / (h * h);
        double unit = s.ScaleY / s.ScaleX;
        double latent = best[1] * best[1], seen = latent + s.MeanErrorVariance;
        return new(best[3] * unit, unit / Math.Sqrt(Math.Max(curvature, 1e-12)), latent / seen, Math.Abs(best[4]) * s.ScaleY, -centre);
    }

    private static Vector<double> Minimise(Func<Vector<double>, double> f, Vector<double> start)
    {
        NelderMeadSimplex simplex = new(1e-14, 20_000);
        try
        {
            Vector<double> at = simplex.FindMinimum(ObjectiveFunction.Value(f), start).MinimizingPoint;
            return simplex.FindMinimum(ObjectiveFunction.Value(f), at).MinimizingPoint;
        }
        catch (MaximumIterationsException)
        {
            throw new InsufficientDataException("The likelihood of a trend on unseen hardness has no clear maximum: the hardness of the heats hardly spreads beyond its error. Take heats over a wider range of hardness, or read hardness more often.");
        }
    }

    private sealed class Standardised
    {
        private readonly double[] _x, _y, _u, _v;

        public Standardised(IReadOnlyList<double> x, IReadOnlyList<double> u, IReadOnlyList<double> y, IReadOnlyList<double> v)
        {
            (double mx, ScaleX) = Moments(x);
            (double my, ScaleY) = Moments(y);
            _x = [.. x.Select(a => (a - mx) / ScaleX)];
            _y = [.. y.Select(a => (a - my) / ScaleY)];
            _u = [.. u.Select(a => a / (ScaleX * ScaleX))];
            _v = [.. v.Select(a => a / (ScaleY * ScaleY))];
        }

        public double ScaleX { get; }

        public double ScaleY { get; }

        public double MeanErrorVariance => _u.Average();

        public double OrdinarySlope => _x.Zip(_y, (a, b) => a * b).Sum() / _x.Sum(a => a * a);

        public double Negative(Vector<double> p)
        {
            double omega = p[1] * p[1], tau = p[4] * p[4], sum = 0;
            for (int i = 0; i < _x.Length; i++)
            {
                double xx = omega + _u[i], xy = p[3] * omega, yy = p[3] * xy + tau + _v[i], determinant = xx * yy - xy * xy;
                double dx = _x[i] - p[0], dy = _y[i] - p[2] - p[3] * p[0];
                sum += 0.5 * (Math.Log(determinant) + (yy * dx * dx - 2 * xy * dx * dy + xx * dy * dy) / determinant);
            }
            return double.IsFinite(sum) ? sum : 1e12;
        }

        private static (double Mean, double Sd) Moments(IReadOnlyList<double> x)
        {
            double mean = x.Average(), sd = Math.Sqrt(x.Sum(a => (a - mean) * (a - mean)) / (x.Count - 1));
            if (!(sd > 0)) throw new InsufficientDataException("All heats have one value, so no trend can be told.");
            return (mean, sd);
        }
    }
}

/// <summary>A trend on unseen hardness.</summary>
/// <param name="Slope">Change of the analysis scale per HRC of true hardness.</param>
/// <param name="SlopeStandardError">From the curvature of the profile likelihood.</param>
/// <param name="Reliability">Share of the spread of read hardness that is real.</param>
/// <param name="HeatSd">Scatter of heats about the trend, τ.</param>
/// <param name="LogLikelihood">At the maximum, on standardised data and without its constant.</param>
public sealed record LatentTrendFit(double Slope, double SlopeStandardError, double Reliability, double HeatSd, double LogLikelihood);
