using MathNet.Numerics.LinearAlgebra;

namespace Meltwise.Statistics.Distributions;

/// <summary>Directions on the sphere of a correlation matrix's rank, from a shifted lattice. See <see cref="MultivariateT"/>.</summary>
internal sealed class SphereDirections
{
    private const int Shifts = 12, Points = 1021;
    private readonly int _rank;
    private readonly double[] _twoSided = new double[Shifts * Points];
    private readonly double[] _oneSided = new double[Shifts * Points];

    public SphereDirections(double[,] correlation)
    {
        double[,] root = Root(correlation, out _rank);
        int k = root.GetLength(0);
        double[] generator = [.. Primes().Take(_rank).Select(p => Math.Sqrt(p) % 1)];
        double[] x = new double[_rank];
        for (int shift = 0; shift < Shifts; shift++)
            for (int point = 0; point < Points; point++)
            {
                Direction(generator, shift, point, x);
                double largest = double.NegativeInfinity, modulus = 0;
                for (int i = 0; i < k; i++)
                {
                    double value = 0;
                    for (int j = 0; j < _rank; j++) value += root[i, j] * x[j];
                    largest = Math.Max(largest, value);
                    modulus = Math.Max(modulus, Math.Abs(value));
                }
                _twoSided[shift * Points + point] = modulus;
                _oneSided[shift * Points + point] = largest;
            }
    }

    public ComputedProbability TwoSidedTail(double t, double nu) => Average(_twoSided, m => Beyond(t / m, nu));

    /// <summary>For t ≥ 0 a direction with no positive component never exceeds t; for t &lt; 0 it is the short radii that do.</summary>
    public ComputedProbability OneSidedTail(double t, double nu) => Average(_oneSided, m => t >= 0
        ? (m > 0 ? Beyond(t / m, nu) : 0)
        : (m >= 0 ? 1 : 1 - Beyond(t / m, nu)));

    private double Beyond(double radius, double nu)
    {
        double f = radius * radius / _rank;
        return double.IsPositiveInfinity(nu) ? ChiSquared.UpperTail(f * _rank, _rank) : FisherF.UpperTail(f, _rank, nu);
    }

    private static ComputedProbability Average(double[] sizes, Func<double, double> tail)
    {
        double[] means = new double[Shifts];
        for (int shift = 0; shift < Shifts; shift++)
        {
            double sum = 0;
            for (int i = 0; i < Points; i++) sum += tail(sizes[shift * Points + i]);
            means[shift] = sum / Points;
        }
        double mean = means.Average();
        return new(mean, Math.Sqrt(means.Sum(m => (m - mean) * (m - mean)) / (Shifts * (Shifts - 1))));
    }

    /// <summary>A lattice point, folded so that it is periodic, made normal and scaled to length 1.</summary>
    private static void Direction(double[] generator, int shift, int point, double[] x)
    {
        double length = 0;
        for (int j = 0; j < x.Length; j++)
        {
            double u = ((point + 1) * generator[j] + (shift + 0.5) * 0.6180339887498949 * (j + 1)) % 1;
            double folded = Math.Clamp(Math.Abs(2 * u - 1), 1e-12, 1 - 1e-12);
            x[j] = MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, folded);
            length += x[j] * x[j];
        }
        length = Math.Sqrt(length);
        for (int j = 0; j < x.Length; j++) x[j] /= length;
    }

    private static double[,] Root(double[,] correlation, out int rank)
    {
        var eigen = Matrix<double>.Build.DenseOfArray(correlation).Evd(Symmetricity.Symmetric);
        double[] values = [.. eigen.EigenValues.Select(v => v.Real)];
        int k = values.Length;
        int[] kept = [.. Enumerable.Range(0, k).Where(i => values[i] > 1e-10 * k)];
        rank = kept.Length;
        double[,] root = new double[k, rank];
        for (int i = 0; i < k; i++)
            for (int j = 0; j < rank; j++)
                root[i, j] = eigen.EigenVectors[i, kept[j]] * Math.Sqrt(values[kept[j]]);
        return root;
    }

    private static IEnumerable<int> Primes()
    {
        for (int n = 2; ; n++)
        {
            bool prime = true;
            for (int d = 2; d * d <= n && prime; d++) prime = n % d != 0;
            if (prime) yield return n;
        }
    }
}
