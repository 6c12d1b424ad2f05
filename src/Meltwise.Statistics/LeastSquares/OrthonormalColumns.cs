using System.Numerics.Tensors;

namespace Meltwise.Statistics.LeastSquares;

/// <summary>A design matrix as orthonormal columns times a triangle, X = Q R, by Gram-Schmidt done twice.</summary>
/// <remarks><para><b>Computation.</b> Each column is made orthogonal to those before it, and then once more; the second pass
/// restores orthogonality to rounding, which the first alone does not.</para><para><b>Source.</b> [GiraudLangouRozloznik2005].</para></remarks>
internal sealed class OrthonormalColumns
{
    /// <summary>Columns of Q, each of n values.</summary>
    public double[][] Q { get; }

    /// <summary>Upper triangle R, p by p.</summary>
    public double[,] R { get; }

    /// <param name="columns">Columns of the design; copied.</param>
    /// <param name="names">Their names, for the refusal of a dependent column.</param>
    /// <exception cref="InsufficientDataException">A column is a combination of those before it.</exception>
    public OrthonormalColumns(IReadOnlyList<double[]> columns, IReadOnlyList<string> names)
    {
        int p = columns.Count;
        Q = new double[p][];
        R = new double[p, p];
        for (int j = 0; j < p; j++)
        {
            double[] q = (double[])columns[j].Clone();
            double length = TensorPrimitives.Norm<double>(q);
            for (int pass = 0; pass < 2; pass++)
                for (int i = 0; i < j; i++)
                {
                    double along = TensorPrimitives.Dot<double>(Q[i], q);
                    R[i, j] += along;
                    TensorPrimitives.MultiplyAdd<double>(Q[i], -along, q, q);
                }
            double left = TensorPrimitives.Norm<double>(q);
            if (!(left > 1e-14 * length))
                throw new InsufficientDataException($"Column '{names[j]}' of the design is a combination of the columns before it, so its coefficient cannot be estimated. Leave it out, or add readings that tell them apart.");
            R[j, j] = left;
            TensorPrimitives.Divide(q, left, q);
            Q[j] = q;
        }
    }

    /// <summary>Takes y out of the column space in place, twice, and returns Q'y.</summary>
    public double[] Project(double[] y)
    {
        double[] along = new double[Q.Length];
        for (int pass = 0; pass < 2; pass++)
            for (int i = 0; i < Q.Length; i++)
            {
                double c = TensorPrimitives.Dot<double>(Q[i], y);
                along[i] += c;
                TensorPrimitives.MultiplyAdd<double>(Q[i], -c, y, y);
            }
        return along;
    }

    /// <summary>Solves R b = c.</summary>
    public double[] Coefficients(double[] c)
    {
        int p = Q.Length;
        double[] b = new double[p];
        for (int i = p - 1; i >= 0; i--)
        {
            double sum = c[i];
            for (int j = i + 1; j < p; j++) sum -= R[i, j] * b[j];
            b[i] = sum / R[i, i];
        }
        return b;
    }

    /// <summary>R⁻¹ as a matrix.</summary>
    public double[,] InverseTriangle()
    {
        int p = Q.Length;
        double[,] inverse = new double[p, p];
        for (int k = 0; k < p; k++)
        {
            double[] unit = new double[p];
            unit[k] = 1;
            double[] column = Coefficients(unit);
            for (int i = 0; i < p; i++) inverse[i, k] = column[i];
        }
        return inverse;
    }
}
