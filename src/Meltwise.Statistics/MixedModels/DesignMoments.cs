namespace Meltwise.Statistics.MixedModels;

/// <summary>X'V⁻¹K_aV⁻¹X and X'V⁻¹K_aV⁻¹K_bV⁻¹X for all components, residual last: how the coefficients' covariance moves with the variances.</summary>
/// <remarks>For a factor K_a = Z_aZ_a' they are products of Z_a'V⁻¹X and Z_a'V⁻¹Z_b; the residual's follow from V⁻¹VV⁻¹ = V⁻¹. X is the orthonormal design.</remarks>
internal sealed class DesignMoments
{
    private readonly Dictionary<(int, int), double[,]> _second = [];

    private DesignMoments(double[][,] first) => First = first;

    /// <summary>X'V⁻¹K_aV⁻¹X.</summary>
    public double[][,] First { get; }

    /// <summary>X'V⁻¹K_aV⁻¹K_bV⁻¹X, a ≤ b; the other order is its transpose.</summary>
    public double[,] Second(int a, int b) => _second[(a, b)];

    public static DesignMoments Of(MixedFit fit, bool withSecond = false)
    {
        MixedData d = fit.Data;
        int m = d.Terms.Length, p = d.P;
        double[][] rows = [.. Enumerable.Range(0, m).Select(k => Rows(fit, k))];
        double[][,] first = new double[m + 1][,];
        double[,] whole = fit.Inverse.DesignInformation();
        for (int a = 0; a < m; a++) first[a] = Cross(rows[a], rows[a], p);
        first[m] = Residual(whole, fit.Variances, k => first[k], p);
        DesignMoments moments = new(first);
        if (!withSecond) return moments;

        for (int a = 0; a < m; a++)
        {
            for (int b = 0; b < m; b++) moments._second[(a, b)] = Cross(rows[a], Through(fit, a, b, rows[b]), p);
            moments._second[(a, m)] = Residual(first[a], fit.Variances, k => moments._second[(a, k)], p);
        }
        moments._second[(m, m)] = Residual(first[m], fit.Variances, k => moments._second[(k, m)], p);
        return moments;
    }

    /// <summary>∂(l'Cl)/∂σ_k².</summary>
    public double[] Gradient(MixedFit fit, double[] l)
    {
        double[] cl = Times(fit.DesignCovariance, l);
        return [.. First.Select(f => Quadratic(cl, f))];
    }

    public static double Quadratic(double[] l, double[,] matrix)
    {
        double sum = 0;
        for (int i = 0; i < l.Length; i++)
            for (int j = 0; j < l.Length; j++) sum += l[i] * matrix[i, j] * l[j];
        return sum;
    }

    private static double[] Times(double[,] matrix, double[] l)
    {
        double[] product = new double[l.Length];
        for (int i = 0; i < l.Length; i++)
            for (int j = 0; j < l.Length; j++) product[i] += matrix[i, j] * l[j];
        return product;
    }

    private static double[] Rows(MixedFit fit, int term)
    {
        MixedData d = fit.Data;
        int levels = d.Terms[term].Labels.Count;
        double[] rows = new double[levels * d.P];
        bool big = term == d.Big;
        for (int i = 0; i < levels; i++)
            fit.Inverse.DesignRow(big, big ? i : d.Start[term] + i, rows.AsSpan(i * d.P, d.P));
        return rows;
    }

    /// <summary>Z_a'V⁻¹Z_b times rows.</summary>
    private static double[] Through(MixedFit fit, int a, int b, double[] rows)
    {
        MixedData d = fit.Data;
        int p = d.P, na = d.Terms[a].Labels.Count, nb = d.Terms[b].Labels.Count;
        double[] result = new double[na * p];
        for (int i = 0; i < na; i++)
            for (int j = 0; j < nb; j++)
            {
                double v = Element(fit, a, i, b, j);
                for (int k = 0; k < p; k++) result[i * p + k] += v * rows[j * p + k];
            }
        return result;
    }

    private static double Element(MixedFit fit, int a, int i, int b, int j)
    {
        MixedData d = fit.Data;
        if (a == d.Big) return b == d.Big ? fit.Inverse.Big(i, j) : fit.Inverse.Mixed(i, d.Start[b] + j);
        return b == d.Big ? fit.Inverse.Mixed(j, d.Start[a] + i) : fit.Inverse.Small(d.Start[a] + i, d.Start[b] + j);
    }

    private static double[,] Cross(double[] left, double[] right, int p)
    {
        double[,] cross = new double[p, p];
        for (int level = 0; level < left.Length; level += p)
            for (int i = 0; i < p; i++)
                for (int j = 0; j < p; j++) cross[i, j] += left[level + i] * right[level + j];
        return cross;
    }

    /// <summary>(whole - Σ σ_k² part_k)/σ².</summary>
    private static double[,] Residual(double[,] whole, double[] variances, Func<int, double[,]> part, int p)
    {
        double[,] left = (double[,])whole.Clone();
        for (int k = 0; k < variances.Length - 1; k++)
        {
            double[,] one = part(k);
            for (int i = 0; i < p; i++)
                for (int j = 0; j < p; j++) left[i, j] -= variances[k] * one[i, j];
        }
        for (int i = 0; i < p; i++)
            for (int j = 0; j < p; j++) left[i, j] /= variances[^1];
        return left;
    }
}
