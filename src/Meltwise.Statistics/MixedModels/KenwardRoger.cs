using MathNet.Numerics.LinearAlgebra;

namespace Meltwise.Statistics.MixedModels;

/// <summary>Small-sample correction of a mixed model's standard errors and tests.</summary>
/// <remarks>
/// <para><b>Formula.</b> C_A = C + 2C{Σ W_ab (Q_ab - P_a C P_b)}C, W the inverse expected information; V is linear in the components, so the
/// terms in its second derivatives vanish. F is scaled and its denominator degrees of freedom chosen so that its first two moments match.</para>
/// <para><b>Limits.</b> Restricted maximum likelihood estimates. <b>Source.</b> [KenwardRoger1997].</para>
/// </remarks>
internal static class KenwardRoger
{
    public static (double StandardError, double DegreesOfFreedom) Contrast(MixedFit fit, double[] l)
    {
        Parts parts = Parts.Of(fit);
        Vector<double> row = Vector<double>.Build.DenseOfArray(l);
        (double df, _) = parts.Match(row.ToRowMatrix());
        return (Math.Sqrt(row * parts.Adjusted * row), df);
    }

    public static MixedJointTest Joint(MixedFit fit, double[][] rows)
    {
        Parts parts = Parts.Of(fit);
        Matrix<double> l = Matrix<double>.Build.DenseOfRowArrays(rows);
        (double df, double scale) = parts.Match(l);
        Vector<double> value = l * parts.Estimate;
        double f = scale / rows.Length * (value * (l * parts.Adjusted * l.Transpose()).Solve(value));
        return new(f, rows.Length, df, scale);
    }

    private sealed record Parts(Matrix<double> C, Matrix<double> Adjusted, Matrix<double>[] P, Matrix<double> W, Vector<double> Estimate)
    {
        public static Parts Of(MixedFit fit)
        {
            DesignMoments moments = DesignMoments.Of(fit, withSecond: true);
            int q = fit.Variances.Length;
            Matrix<double> c = Matrix<double>.Build.DenseOfArray(fit.DesignCovariance);
            Matrix<double> w = Matrix<double>.Build.DenseOfArray(fit.Score.Expected).Inverse();
            Matrix<double>[] p = [.. moments.First.Select(f => -Matrix<double>.Build.DenseOfArray(f))];
            Matrix<double> sum = Matrix<double>.Build.Dense(fit.Data.P, fit.Data.P);
            for (int a = 0; a < q; a++)
                for (int b = 0; b < q; b++)
                {
                    Matrix<double> second = Matrix<double>.Build.DenseOfArray(moments.Second(Math.Min(a, b), Math.Max(a, b)));
                    sum += w[a, b] * ((a <= b ? second : second.Transpose()) - p[a] * c * p[b]);
                }
            double[] onOrthonormal = new double[fit.Data.P];
            for (int i = 0; i < onOrthonormal.Length; i++)
                for (int j = 0; j < onOrthonormal.Length; j++) onOrthonormal[i] += fit.Data.Design.R[i, j] * fit.Coefficients[j];
            return new(c, c + 2 * c * sum * c, p, w, Vector<double>.Build.DenseOfArray(onOrthonormal));
        }

        /// <summary>Denominator degrees of freedom and scale of F for L b = 0.</summary>
        public (double DegreesOfFreedom, double Scale) Match(Matrix<double> l)
        {
            int rank = l.RowCount;
            Matrix<double> theta = l.Transpose() * (l * C * l.Transpose()).Inverse() * l;
            Matrix<double>[] half = [.. P.Select(p => theta * C * p * C)];
            double a1 = 0, a2 = 0;
            for (int a = 0; a < P.Length; a++)
                for (int b = 0; b < P.Length; b++)
                {
                    a1 += W[a, b] * half[a].Trace() * half[b].Trace();
                    a2 += W[a, b] * (half[a] * half[b]).Trace();
                }
            double bigB = (a1 + 6 * a2) / (2 * rank);
            double g = ((rank + 1) * a1 - (rank + 4) * a2) / ((rank + 2) * a2);
            double den = 3 * rank + 2 * (1 - g);
            double c1 = g / den, c2 = (rank - g) / den, c3 = (rank + 2 - g) / den;
            double mean = 1 / (1 - a2 / rank);
            double variance = 2.0 / rank * (1 + c1 * bigB) / ((1 - c2 * bigB) * (1 - c2 * bigB) * (1 - c3 * bigB));
            double rho = variance / (2 * mean * mean);
            double df = 4 + (rank + 2) / (rank * rho - 1);
            return (df, df / (mean * (df - 2)));
        }
    }
}
