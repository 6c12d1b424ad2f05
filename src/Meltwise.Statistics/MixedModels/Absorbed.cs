using System.Numerics.Tensors;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>The mixed-model equations at given variances, the largest random factor absorbed and the rest factored.</summary>
/// <remarks>
/// <para>W = σ²I + σ₁²Z₁Z₁' has a closed inverse, since Z₁'Z₁ is diagonal. With B = [Z₂ X] or Z₂ alone, B scaled by the standard
/// deviations of Z₂, and S = B'W⁻¹B + diag(1 for Z₂, 0 for X) = LL', the projection is P = W⁻¹ - W⁻¹B S⁻¹ B'W⁻¹: with X it is the P of REML,
/// without X it is V⁻¹. U = Z'W⁻¹B L'⁻¹ then gives Z'PZ = Z'W⁻¹Z - UU'.</para>
/// </remarks>
internal sealed class Absorbed
{
    private readonly MixedData _d;
    private readonly double[] _bigPrecision;
    private readonly double[] _inner;
    private readonly double[] _scale;
    private readonly int _k;
    private readonly double[] _bigU, _smallU;

    private Absorbed(MixedData data, double[] bigPrecision, double[] inner, double[] scale, int k, CholeskyFactor factor, double logWork)
    {
        (_d, _bigPrecision, _inner, _scale, _k, Factor) = (data, bigPrecision, inner, scale, k, factor);
        LogDeterminant = logWork + factor.LogDeterminant;
        (_bigU, _smallU) = (new double[data.BigLevels * k], new double[data.SmallLevels * k]);
    }

    public CholeskyFactor Factor { get; }

    /// <summary>ln|W| + ln|S|, which is ln|V| + ln|X'V⁻¹X| with X among the columns and ln|V| without it (up to the constant of the orthonormal X).</summary>
    public double LogDeterminant { get; }

    /// <summary>Absorbs and factors; null where the variances give no positive definite system.</summary>
    /// <param name="data">Sums and cross products.</param>
    /// <param name="variance">Variance of each term, residual last.</param>
    /// <param name="withDesign">True for P (X among the columns), false for V⁻¹.</param>
    public static Absorbed? At(MixedData data, double[] variance, bool withDesign)
    {
        double residual = variance[^1], big = variance[data.Big];
        int c = data.Columns, k = data.SmallLevels + (withDesign ? data.P : 0);
        double[] precision = new double[data.BigLevels];
        double logWork = (data.N - data.BigLevels) * Math.Log(residual);
        double[] inner = new double[c * c];
        TensorPrimitives.Divide<double>(data.Products, residual, inner);
        for (int i = 0; i < precision.Length; i++)
        {
            double total = residual + big * data.BigWeight[i];
            precision[i] = 1 / total;
            logWork += Math.Log(total);
            AddOuter(inner, data.BigSums.AsSpan(i * c, c), -big / (residual * total));
        }

        double[] scale = new double[k];
        Array.Fill(scale, 1);
        for (int a = 0; a < data.Terms.Length; a++)
            if (a != data.Big) scale.AsSpan(data.Start[a], data.Terms[a].Labels.Count).Fill(Math.Sqrt(variance[a]));
        double[,] system = new double[k, k];
        for (int i = 0; i < k; i++)
            for (int j = 0; j <= i; j++)
                system[i, j] = scale[i] * scale[j] * inner[i * c + j] + (i == j && i < data.SmallLevels ? 1 : 0);
        return CholeskyFactor.Of(system) is { } factor ? new(data, precision, inner, scale, k, factor, logWork) : null;
    }

    /// <summary>y'Py, and Z'Py for every level, largest term first.</summary>
    public double Residual(double[] big, double[] small)
    {
        int c = _d.Columns;
        double[] u = new double[_k];
        for (int i = 0; i < _k; i++) u[i] = _scale[i] * _inner[i * c + c - 1];
        Factor.Forward(u);
        for (int i = 0; i < big.Length; i++)
            big[i] = _bigPrecision[i] * _d.BigSums[i * c + c - 1] - TensorPrimitives.Dot<double>(_bigU.AsSpan(i * _k, _k), u);
        for (int i = 0; i < small.Length; i++)
            small[i] = _inner[i * c + c - 1] - TensorPrimitives.Dot<double>(_smallU.AsSpan(i * _k, _k), u);
        return _inner[c * c - 1] - TensorPrimitives.Dot<double>(u, u);
    }

    /// <summary>y'Py alone.</summary>
    public double ResidualSquares()
    {
        int c = _d.Columns;
        double[] u = new double[_k];
        for (int i = 0; i < _k; i++) u[i] = _scale[i] * _inner[i * c + c - 1];
        Factor.Forward(u);
        return _inner[c * c - 1] - TensorPrimitives.Dot<double>(u, u);
    }

    /// <summary>Fills U for every level; needed before <see cref="Residual"/> and <see cref="Blocks"/>.</summary>
    public Absorbed WithLevels()
    {
        int c = _d.Columns;
        for (int i = 0; i < _d.BigLevels; i++)
        {
            Span<double> u = _bigU.AsSpan(i * _k, _k);
            for (int j = 0; j < _k; j++) u[j] = _bigPrecision[i] * _scale[j] * _d.BigSums[i * c + j];
            Factor.Forward(u);
        }
        for (int i = 0; i < _d.SmallLevels; i++)
        {
            Span<double> u = _smallU.AsSpan(i * _k, _k);
            for (int j = 0; j < _k; j++) u[j] = _scale[j] * _inner[i * c + j];
            Factor.Forward(u);
        }
        return this;
    }

    /// <summary>tr(Z_a'PZ_a) for every term and ‖Z_a'PZ_b‖² for every pair: all that score and information need.</summary>
    public (double[] Trace, double[,] Square) Blocks()
    {
        int m = _d.Terms.Length;
        double[] trace = new double[m];
        double[,] square = new double[m, m];
        BigBlock(trace, square);
        for (int i = 0; i < _d.SmallLevels; i++)
        {
            int a = TermOf(i);
            trace[a] += Small(i, i);
            for (int j = 0; j < _d.SmallLevels; j++) square[a, TermOf(j)] += Squared(Small(i, j));
            double cross = 0;
            for (int b = 0; b < _d.BigLevels; b++) cross += Squared(Mixed(b, i));
            square[a, _d.Big] += cross;
            square[_d.Big, a] += cross;
        }
        return (trace, square);
    }

    /// <summary>z_a' Z_a'PZ_b z_b for every pair of terms, for one value per level.</summary>
    public double[,] Quadratics(double[] big, double[] small)
    {
        int m = _d.Terms.Length, c = _d.Columns;
        double[] along = new double[m * _k];
        double[,] q = new double[m, m];
        for (int i = 0; i < big.Length; i++)
        {
            q[_d.Big, _d.Big] += _bigPrecision[i] * _d.BigWeight[i] * big[i] * big[i];
            TensorPrimitives.MultiplyAdd(_bigU.AsSpan(i * _k, _k), big[i], along.AsSpan(_d.Big * _k, _k), along.AsSpan(_d.Big * _k, _k));
            for (int j = 0; j < small.Length; j++)
                q[_d.Big, TermOf(j)] += _bigPrecision[i] * big[i] * _d.BigSums[i * c + j] * small[j];
        }
        for (int i = 0; i < small.Length; i++)
        {
            Span<double> own = along.AsSpan(TermOf(i) * _k, _k);
            TensorPrimitives.MultiplyAdd(_smallU.AsSpan(i * _k, _k), small[i], own, own);
            for (int j = 0; j < small.Length; j++) q[TermOf(i), TermOf(j)] += small[i] * _inner[i * c + j] * small[j];
        }
        for (int a = 0; a < m; a++) q[a, _d.Big] = q[_d.Big, a];
        for (int a = 0; a < m; a++)
            for (int b = 0; b < m; b++)
                q[a, b] -= TensorPrimitives.Dot<double>(along.AsSpan(a * _k, _k), along.AsSpan(b * _k, _k));
        return q;
    }

    /// <summary>Element of Z₁'PZ₁.</summary>
    public double Big(int i, int j) => (i == j ? _bigPrecision[i] * _d.BigWeight[i] : 0)
        - TensorPrimitives.Dot<double>(_bigU.AsSpan(i * _k, _k), _bigU.AsSpan(j * _k, _k));

    /// <summary>Element of Z₂'PZ₂.</summary>
    public double Small(int i, int j) => _inner[i * _d.Columns + j]
        - TensorPrimitives.Dot<double>(_smallU.AsSpan(i * _k, _k), _smallU.AsSpan(j * _k, _k));

    /// <summary>Element of Z₁'PZ₂.</summary>
    public double Mixed(int big, int small) => _bigPrecision[big] * _d.BigSums[big * _d.Columns + small]
        - TensorPrimitives.Dot<double>(_bigU.AsSpan(big * _k, _k), _smallU.AsSpan(small * _k, _k));

    /// <summary>Z'V⁻¹X row of a level, for the design as orthonormal columns; only where X is not among the columns.</summary>
    public void DesignRow(bool big, int level, Span<double> row)
    {
        int c = _d.Columns;
        ReadOnlySpan<double> u = big ? _bigU.AsSpan(level * _k, _k) : _smallU.AsSpan(level * _k, _k);
        for (int j = 0; j < _d.P; j++)
        {
            int column = _d.SmallLevels + j;
            double plain = big ? _bigPrecision[level] * _d.BigSums[level * c + column] : _inner[level * c + column];
            row[j] = plain - TensorPrimitives.Dot(u, _designU.AsSpan(j * _k, _k));
        }
    }

    /// <summary>X'V⁻¹X for the orthonormal design, and readies <see cref="DesignRow"/>; only where X is not among the columns.</summary>
    public double[,] DesignInformation()
    {
        int c = _d.Columns;
        _designU = new double[_d.P * _k];
        double[,] information = new double[_d.P, _d.P];
        for (int j = 0; j < _d.P; j++)
        {
            Span<double> u = _designU.AsSpan(j * _k, _k);
            for (int i = 0; i < _k; i++) u[i] = _scale[i] * _inner[i * c + _d.SmallLevels + j];
            Factor.Forward(u);
            for (int i = 0; i <= j; i++)
                information[i, j] = information[j, i] = _inner[(_d.SmallLevels + i) * c + _d.SmallLevels + j] - TensorPrimitives.Dot<double>(u, _designU.AsSpan(i * _k, _k));
        }
        return information;
    }

    /// <summary>X'V⁻¹y for the orthonormal design; after <see cref="DesignInformation"/>.</summary>
    public double[] DesignResponse()
    {
        int c = _d.Columns;
        double[] u = new double[_k];
        for (int i = 0; i < _k; i++) u[i] = _scale[i] * _inner[i * c + c - 1];
        Factor.Forward(u);
        double[] response = new double[_d.P];
        for (int j = 0; j < response.Length; j++)
            response[j] = _inner[(_d.SmallLevels + j) * c + c - 1] - TensorPrimitives.Dot<double>(u, _designU.AsSpan(j * _k, _k));
        return response;
    }

    private double[] _designU = [];

    private void BigBlock(double[] trace, double[,] square)
    {
        double[] gram = new double[_k * _k];
        double sum = 0, squares = 0;
        for (int i = 0; i < _d.BigLevels; i++)
        {
            ReadOnlySpan<double> u = _bigU.AsSpan(i * _k, _k);
            double own = _bigPrecision[i] * _d.BigWeight[i], length = TensorPrimitives.Dot(u, u);
            sum += own - length;
            squares += own * own - 2 * own * length;
            AddOuter(gram, u, 1);
        }
        trace[_d.Big] = sum;
        square[_d.Big, _d.Big] = squares + TensorPrimitives.Dot<double>(gram, gram);
    }

    private int TermOf(int small) => _d.SmallTerm[small];

    private static void AddOuter(double[] target, ReadOnlySpan<double> row, double factor)
    {
        for (int i = 0; i < row.Length; i++)
            if (row[i] != 0) TensorPrimitives.MultiplyAdd(row, factor * row[i], target.AsSpan(i * row.Length, row.Length), target.AsSpan(i * row.Length, row.Length));
    }

    private static double Squared(double v) => v * v;
}
