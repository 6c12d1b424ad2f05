using System.Numerics.Tensors;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>All that the likelihood needs of the readings: sums by level of the largest random factor and cross products of the rest.</summary>
/// <remarks>Readings enter once here; after that the work per iteration grows with the number of levels, not of readings.</remarks>
internal sealed class MixedData
{
    /// <summary>Readings, fixed coefficients, levels of the largest term, levels of all other terms.</summary>
    public int N, P, BigLevels, SmallLevels;

    /// <summary>Which of the caller's terms is the largest.</summary>
    public int Big;

    /// <summary>First column of each of the caller's terms among the small levels; -1 for the largest.</summary>
    public required int[] Start;

    public required RandomTerm[] Terms;

    /// <summary>Term of each small level.</summary>
    public required int[] SmallTerm;

    /// <summary>Weighted number of readings by level of the largest term.</summary>
    public required double[] BigWeight;

    /// <summary>Z₁'[Z₂ X y] row by row, and [Z₂ X y]'[Z₂ X y]; X orthonormal, y its residual.</summary>
    public required double[] BigSums, Products;

    public required OrthonormalColumns Design;
    public required double[] Ols;
    public double LogWeights;

    /// <summary>Columns of [Z₂ X y].</summary>
    public int Columns => SmallLevels + P + 1;

    public static MixedData Of(double[] y, IReadOnlyList<double[]> columns, IReadOnlyList<string> names, RandomTerm[] terms, double[]? weights)
    {
        double[] root = weights is null ? [] : [.. weights.Select(Math.Sqrt)];
        double[] Scaled(double[] v)
        {
            double[] copy = (double[])v.Clone();
            if (root.Length > 0) TensorPrimitives.Multiply<double>(copy, root, copy);
            return copy;
        }
        OrthonormalColumns design = new([.. columns.Select(Scaled)], names);
        double[] residual = Scaled(y);
        double[] along = design.Project(residual);

        int big = 0;
        for (int k = 1; k < terms.Length; k++)
            if (terms[k].Labels.Count > terms[big].Labels.Count) big = k;
        int[] start = new int[terms.Length];
        int small = 0;
        for (int k = 0; k < terms.Length; k++)
        {
            start[k] = k == big ? -1 : small;
            if (k != big) small += terms[k].Labels.Count;
        }

        int[] smallTerm = new int[small];
        for (int k = 0; k < terms.Length; k++)
            if (k != big) Array.Fill(smallTerm, k, start[k], terms[k].Labels.Count);

        MixedData data = new()
        {
            N = y.Length,
            P = columns.Count,
            Big = big,
            BigLevels = terms[big].Labels.Count,
            SmallLevels = small,
            Start = start,
            SmallTerm = smallTerm,
            Terms = terms,
            Design = design,
            Ols = along,
            BigWeight = new double[terms[big].Labels.Count],
            BigSums = new double[terms[big].Labels.Count * (small + columns.Count + 1)],
            Products = new double[(small + columns.Count + 1) * (small + columns.Count + 1)],
            LogWeights = weights is null ? 0 : weights.Sum(Math.Log),
        };
        data.Accumulate(residual, root);
        return data;
    }

    private void Accumulate(double[] residual, double[] root)
    {
        int c = Columns;
        double[] dense = new double[P + 1];
        for (int i = 0; i < N; i++)
        {
            double w = root.Length > 0 ? root[i] : 1;
            for (int j = 0; j < P; j++) dense[j] = Design.Q[j][i];
            dense[P] = residual[i];
            int level = Terms[Big].Level[i];
            BigWeight[level] += w * w;
            Span<double> sums = BigSums.AsSpan(level * c, c);
            AddScaled(sums[SmallLevels..], dense, w);
            for (int a = 0; a < Terms.Length; a++)
            {
                if (a == Big) continue;
                int row = Start[a] + Terms[a].Level[i];
                sums[row] += w * w;
                Span<double> product = Products.AsSpan(row * c, c);
                AddScaled(product[SmallLevels..], dense, w);
                for (int b = 0; b < Terms.Length; b++)
                    if (b != Big) product[Start[b] + Terms[b].Level[i]] += w * w;
            }
        }

        // X'X is the unit matrix and X'y is zero by construction; only y'y is a sum.
        for (int j = 0; j < P; j++) Products[(SmallLevels + j) * c + SmallLevels + j] = 1;
        Products[(c - 1) * c + c - 1] = TensorPrimitives.Dot<double>(residual, residual);
        for (int row = SmallLevels; row < c; row++)
            for (int column = 0; column < SmallLevels; column++)
                Products[row * c + column] = Products[column * c + row];
    }

    private static void AddScaled(Span<double> target, ReadOnlySpan<double> values, double w)
    {
        for (int j = 0; j < values.Length; j++) target[j] += w * values[j];
    }
}
