namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Small dense linear algebra on arrays that the caller owns: no allocation, orders up to about 25.</summary>
/// <remarks><b>Source.</b> [GolubVanLoan2013], algorithms 4.2.1 (Cholesky) and 3.4.1 (Gaussian elimination with partial pivoting).</remarks>
internal static class DenseAlgebra
{
    /// <summary>Scalar product.</summary>
    internal static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }

    /// <summary>Replaces the lower triangle by L with A = L L^T; false when a pivot is at or below <paramref name="floor"/>.</summary>
    internal static bool Cholesky(Span<double> a, int n, double floor)
    {
        for (int j = 0; j < n; j++)
        {
            double pivot = a[j * n + j] - Dot(a.Slice(j * n, j), a.Slice(j * n, j));
            if (!(pivot > floor)) return false;
            double root = Math.Sqrt(pivot);
            a[j * n + j] = root;
            for (int i = j + 1; i < n; i++)
                a[i * n + j] = (a[i * n + j] - Dot(a.Slice(i * n, j), a.Slice(j * n, j))) / root;
        }
        return true;
    }

    /// <summary>Solves L x = b in place.</summary>
    internal static void ForwardSolve(ReadOnlySpan<double> factor, int n, Span<double> b)
    {
        for (int i = 0; i < n; i++) b[i] = (b[i] - Dot(factor.Slice(i * n, i), b[..i])) / factor[i * n + i];
    }

    /// <summary>Solves L^T x = b in place.</summary>
    internal static void BackwardSolve(ReadOnlySpan<double> factor, int n, Span<double> b)
    {
        for (int i = n - 1; i >= 0; i--)
        {
            double sum = b[i];
            for (int j = i + 1; j < n; j++) sum -= factor[j * n + i] * b[j];
            b[i] = sum / factor[i * n + i];
        }
    }

    /// <summary>Replaces A by its LU factors with row pivots, after scaling each row by its largest entry; false when singular.</summary>
    internal static bool Factor(Span<double> a, int n, Span<int> pivots, Span<double> rowScale)
    {
        for (int i = 0; i < n; i++)
        {
            double largest = 0;
            for (int j = 0; j < n; j++) largest = Math.Max(largest, Math.Abs(a[i * n + j]));
            if (!(largest > 0) || !double.IsFinite(largest)) return false;
            rowScale[i] = 1 / largest;
            for (int j = 0; j < n; j++) a[i * n + j] /= largest;
        }
        for (int k = 0; k < n; k++)
        {
            int p = k;
            for (int i = k + 1; i < n; i++)
                if (Math.Abs(a[i * n + k]) > Math.Abs(a[p * n + k])) p = i;
            if (!(Math.Abs(a[p * n + k]) > 1e-14)) return false;
            pivots[k] = p;
            if (p != k)
                for (int j = 0; j < n; j++) (a[k * n + j], a[p * n + j]) = (a[p * n + j], a[k * n + j]);
            for (int i = k + 1; i < n; i++)
            {
                double factor = a[i * n + k] /= a[k * n + k];
                if (factor == 0) continue;
                for (int j = k + 1; j < n; j++) a[i * n + j] -= factor * a[k * n + j];
            }
        }
        return true;
    }

    /// <summary>Solves A x = b in place with the factors of <see cref="Factor"/>.</summary>
    internal static void Solve(ReadOnlySpan<double> factors, int n, ReadOnlySpan<int> pivots, ReadOnlySpan<double> rowScale, Span<double> b)
    {
        for (int i = 0; i < n; i++) b[i] *= rowScale[i];
        for (int k = 0; k < n; k++) (b[k], b[pivots[k]]) = (b[pivots[k]], b[k]);
        for (int i = 0; i < n; i++) b[i] -= Dot(factors.Slice(i * n, i), b[..i]);
        for (int i = n - 1; i >= 0; i--)
        {
            double sum = b[i];
            for (int j = i + 1; j < n; j++) sum -= factors[i * n + j] * b[j];
            b[i] = sum / factors[i * n + i];
        }
    }
}
