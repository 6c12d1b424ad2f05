namespace Meltwise.Statistics.LeastSquares;

/// <summary>Lower triangle L with A = L L' of a small positive definite matrix. Source: [GolubVanLoan2013], 4.2.</summary>
internal sealed class CholeskyFactor
{
    private readonly double[] _l;

    private CholeskyFactor(double[] l, int size) => (_l, Size) = (l, size);

    public int Size { get; }

    /// <summary>ln det A.</summary>
    public double LogDeterminant { get; private set; }

    /// <summary>The factor, or null where the matrix is not positive definite.</summary>
    public static CholeskyFactor? Of(double[,] a)
    {
        int n = a.GetLength(0);
        double[] l = new double[n * n];
        double log = 0;
        for (int i = 0; i < n; i++)
            for (int j = 0; j <= i; j++)
            {
                double sum = a[i, j];
                for (int k = 0; k < j; k++) sum -= l[i * n + k] * l[j * n + k];
                if (i != j) l[i * n + j] = sum / l[j * n + j];
                else if (!(sum > 0)) return null;
                else
                {
                    l[i * n + i] = Math.Sqrt(sum);
                    log += Math.Log(sum);
                }
            }
        return new(l, n) { LogDeterminant = log };
    }

    /// <summary>x becomes L⁻¹ x.</summary>
    public void Forward(Span<double> x)
    {
        for (int i = 0; i < Size; i++)
        {
            double sum = x[i];
            ReadOnlySpan<double> row = _l.AsSpan(i * Size, i);
            for (int k = 0; k < row.Length; k++) sum -= row[k] * x[k];
            x[i] = sum / _l[i * Size + i];
        }
    }

    /// <summary>x becomes L'⁻¹ x.</summary>
    public void Backward(Span<double> x)
    {
        for (int i = Size - 1; i >= 0; i--)
        {
            double sum = x[i];
            for (int k = i + 1; k < Size; k++) sum -= _l[k * Size + i] * x[k];
            x[i] = sum / _l[i * Size + i];
        }
    }

    /// <summary>A⁻¹ b.</summary>
    public double[] Solve(double[] b)
    {
        double[] x = (double[])b.Clone();
        Forward(x);
        Backward(x);
        return x;
    }

    /// <summary>A⁻¹.</summary>
    public double[,] Inverse()
    {
        double[,] inverse = new double[Size, Size];
        for (int j = 0; j < Size; j++)
        {
            double[] x = new double[Size];
            x[j] = 1;
            x = Solve(x);
            for (int i = 0; i < Size; i++) inverse[i, j] = x[i];
        }
        return inverse;
    }
}
