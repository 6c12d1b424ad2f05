using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Extremes;

/// <summary>Generalized extreme-value distribution of maxima: is the Gumbel's straight tail enough?</summary>
/// <remarks><b>Model.</b> F(x) = exp(-(1 + ξz)^(-1/ξ)), z = (x - μ)/σ; ξ = 0 is the Gumbel. Maximum likelihood by simplex and Newton on numerical derivatives;
/// standard errors from the observed information. <b>Limits.</b> At least 20 maxima; ξ above -0.5. Three parameters from few maxima extrapolate wildly: use only where the likelihood-ratio test
/// refuses ξ = 0. <b>Source.</b> [Coles2001], 3.3.</remarks>
public static class GeneralizedExtremeValue
{
    /// <summary>Fits the maxima.</summary>
    public static GevFit Fit(IReadOnlyList<double> maxima)
    {
        ArgumentNullException.ThrowIfNull(maxima);
        if (maxima.Count < 20) throw new InsufficientDataException($"Three parameters of an extreme-value distribution need at least 20 maxima; got {maxima.Count}.");
        double[] x = [.. maxima];
        GumbelFit gumbel = GumbelLargest.Fit(x);
        double unit = gumbel.Scale;
        double Negative(Vector<double> p) => NegativeLog(x, gumbel.Location + unit * p[0], unit * Math.Exp(p[1]), p[2]);
        Vector<double> at = new NelderMeadSimplex(1e-12, 5000).FindMinimum(ObjectiveFunction.Value(Negative), Vector<double>.Build.DenseOfArray([0, 0, -0.05])).MinimizingPoint;
        for (int i = 0; i < 20; i++)
        {
            (Vector<double> gradient, Matrix<double> hessian) = Derivatives(Negative, at);
            Vector<double> step = hessian.Solve(gradient);
            at -= step;
            if (step.L2Norm() < 1e-10) break;
        }
        double location = gumbel.Location + unit * at[0], scale = unit * Math.Exp(at[1]), shape = at[2];
        Matrix<double> covariance = Derivatives(Negative, at).Hessian.Inverse();
        double log = -Negative(at), ratio = 2 * (log - gumbel.LogLikelihood);
        return new(location, scale, shape, log, (unit * Math.Sqrt(covariance[0, 0]), scale * Math.Sqrt(covariance[1, 1]), Math.Sqrt(covariance[2, 2])), ChiSquared.UpperTail(Math.Max(0, ratio), 1));
    }

    private static double NegativeLog(double[] x, double location, double scale, double shape)
    {
        double sum = x.Length * Math.Log(scale);
        foreach (double v in x)
        {
            double z = (v - location) / scale, t = 1 + shape * z;
            if (t <= 0) return 1e10;
            double y = Math.Abs(shape) < 1e-9 ? z : Math.Log(t) / shape;
            sum += (1 + shape) * y + Math.Exp(-y);
        }
        return sum;
    }

    private static (Vector<double> Gradient, Matrix<double> Hessian) Derivatives(Func<Vector<double>, double> f, Vector<double> at)
    {
        const double H = 2e-3;
        int n = at.Count;
        Vector<double> gradient = Vector<double>.Build.Dense(n);
        Matrix<double> hessian = Matrix<double>.Build.Dense(n, n);
        double Shifted(int i, double a, int j, double b)
        {
            Vector<double> p = at.Clone();
            p[i] += a * H;
            p[j] += b * H;
            return f(p);
        }
        double centre = f(at);
        for (int i = 0; i < n; i++)
        {
            // Fourth-order differences, so that a step large enough against rounding is small enough against curvature.
            double p1 = Shifted(i, 1, i, 0), m1 = Shifted(i, -1, i, 0), p2 = Shifted(i, 2, i, 0), m2 = Shifted(i, -2, i, 0);
            gradient[i] = (8 * (p1 - m1) - (p2 - m2)) / (12 * H);
            hessian[i, i] = (16 * (p1 + m1) - (p2 + m2) - 30 * centre) / (12 * H * H);
            for (int j = 0; j < i; j++)
            {
                double Cross(double s) => (Shifted(i, s, j, s) - Shifted(i, s, j, -s) - Shifted(i, -s, j, s) + Shifted(i, -s, j, -s)) / (4 * s * s * H * H);
                hessian[i, j] = hessian[j, i] = (4 * Cross(1) - Cross(2)) / 3;
            }
        }
        return (gradient, hessian);
    }
}

/// <summary>A fitted generalized extreme-value distribution.</summary>
/// <param name="Location">μ.</param>
/// <param name="Scale">σ.</param>
/// <param name="Shape">ξ; 0 is the Gumbel.</param>
/// <param name="LogLikelihood">Log-likelihood at the maximum.</param>
/// <param name="StandardErrors">Of location, scale and shape.</param>
/// <param name="GumbelP">p value of ξ = 0 by the likelihood ratio.</param>
public sealed record GevFit(double Location, double Scale, double Shape, double LogLikelihood, (double Location, double Scale, double Shape) StandardErrors, double GumbelP);
