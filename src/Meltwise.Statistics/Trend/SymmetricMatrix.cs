namespace Meltwise.Statistics.Trend;

/// <summary>Small symmetric positive definite matrices, as normal equations make them: accumulate, invert, multiply.</summary>
/// <remarks>Cholesky, no pivoting; meant for a handful of columns. Written out here because a general library's first use costs more time than the whole judging.</remarks>
internal sealed class SymmetricMatrix(int size)
{
    private readonly double[] _a = new double[size * size];

    public int Size => size;

    public double this[int i, int j]
    {
        get => _a[i * size + j];
        set => _a[i * size + j] = value;
    }

    /// <summary>Adds weight·x·xᵀ.</summary>
    public void AddOuter(ReadOnlySpan<double> x, double weight)
    {
        for (int i = 0; i < size; i++)
        {
            if (x[i] == 0) continue;
            double wx = weight * x[i];
            for (int j = 0; j < size; j++) _a[i * size + j] += wx * x[j];
        }
    }

    /// <summary>xᵀ A y.</summary>
    public double Form(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        double sum = 0;
        for (int i = 0; i < size; i++)
        {
            double row = 0;
            for (int j = 0; j < size; j++) row += _a[i * size + j] * y[j];
            sum += x[i] * row;
        }
        return sum;
    }

    /// <summary>A x.</summary>
    public double[] Times(ReadOnlySpan<double> x)
    {
        double[] y = new double[size];
        for (int i = 0; i < size; i++)
            for (int j = 0; j < size; j++) y[i] += _a[i * size + j] * x[j];
        return y;
    }

    /// <summary>tr(A B) for two symmetric matrices.</summary>
    public double TraceOfProduct(SymmetricMatrix other)
    {
        double sum = 0;
        for (int i = 0; i < _a.Length; i++) sum += _a[i] * other._a[i];
        return sum;
    }

    /// <summary>A B A, for symmetric A and B.</summary>
    public SymmetricMatrix Sandwich(SymmetricMatrix middle)
    {
        double[] half = new double[size * size];
        for (int i = 0; i < size; i++)
            for (int k = 0; k < size; k++)
                for (int j = 0; j < size; j++) half[i * size + j] += _a[i * size + k] * middle._a[k * size + j];
        SymmetricMatrix result = new(size);
        for (int i = 0; i < size; i++)
            for (int k = 0; k < size; k++)
                for (int j = 0; j < size; j++) result._a[i * size + j] += half[i * size + k] * _a[k * size + j];
        return result;
    }

    /// <summary>The inverse, or null when the columns are not independent.</summary>
    public SymmetricMatrix? Inverse()
    {
        double[] l = new double[size * size];
        for (int j = 0; j < size; j++)
        {
            double pivot = _a[j * size + j];
            for (int k = 0; k < j; k++) pivot -= l[j * size + k] * l[j * size + k];
            if (!(pivot > 1e-12 * Math.Abs(_a[j * size + j]))) return null;
            l[j * size + j] = Math.Sqrt(pivot);
            for (int i = j + 1; i < size; i++)
            {
                double sum = _a[i * size + j];
                for (int k = 0; k < j; k++) sum -= l[i * size + k] * l[j * size + k];
                l[i * size + j] = sum / l[j * size + j];
            }
        }
        SymmetricMatrix inverse = new(size);
        double[] column = new double[size];
        for (int c = 0; c < size; c++)
        {
            for (int i = 0; i < size; i++)
            {
                double sum = i == c ? 1 : 0;
                for (int k = 0; k < i; k++) sum -= l[i * size + k] * column[k];
                column[i] = sum / l[i * size + i];
            }
            for (int i = size - 1; i >= 0; i--)
            {
                double sum = column[i];
                for (int k = i + 1; k < size; k++) sum -= l[k * size + i] * column[k];
                column[i] = sum / l[i * size + i];
            }
            for (int i = 0; i < size; i++) inverse[i, c] = column[i];
        }
        return inverse;
    }
}
