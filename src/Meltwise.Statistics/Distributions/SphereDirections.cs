using System.Collections.Concurrent;
using MathNet.Numerics.LinearAlgebra;

namespace Meltwise.Statistics.Distributions;

/// <summary>Directions on the sphere of a correlation matrix's rank, from a shifted lattice. See <see cref="MultivariateT"/>.</summary>
internal sealed class SphereDirections
{
    private const int Shifts = 12, Points = 1021, Nodes = 32;
    private static readonly ConcurrentDictionary<int, double[]> s_lattice = [];
    private readonly int _rank;
    private readonly double[] _nodes = new double[Nodes];
    private readonly double[,] _share = new double[Shifts, Nodes];
    private readonly double[] _oneSided = new double[Shifts * Points];

    public SphereDirections(double[,] correlation)
    {
        double[,] root = Root(correlation, out _rank);
        int k = root.GetLength(0);
        double[] lattice = s_lattice.GetOrAdd(_rank, Lattice), sizes = new double[Shifts * Points];
        for (int shift = 0; shift < Shifts; shift++)
            for (int point = 0; point < Points; point++)
            {
                ReadOnlySpan<double> x = lattice.AsSpan((shift * Points + point) * _rank, _rank);
                double largest = double.NegativeInfinity, modulus = 0;
                for (int i = 0; i < k; i++)
                {
                    double value = 0;
                    for (int j = 0; j < _rank; j++) value += root[i, j] * x[j];
                    largest = Math.Max(largest, value);
                    modulus = Math.Max(modulus, Math.Abs(value));
                }
                sizes[shift * Points + point] = modulus;
                _oneSided[shift * Points + point] = largest;
            }
        Share(sizes);
    }

    /// <summary>The tail given a direction is a smooth function of its size M, so that its mean over all directions is a sum over a few Chebyshev points of M.</summary>
    public ComputedProbability TwoSidedTail(double t, double nu)
    {
        double[] tail = [.. _nodes.Select(m => Beyond(t / m, nu))], means = new double[Shifts];
        for (int shift = 0; shift < Shifts; shift++)
            for (int k = 0; k < Nodes; k++) means[shift] += _share[shift, k] * tail[k];
        return Over(means);
    }

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
        return Over(means);
    }

    private static ComputedProbability Over(double[] means)
    {
        double mean = means.Average();
        return new(Math.Max(0, mean), Math.Sqrt(means.Sum(m => (m - mean) * (m - mean)) / (Shifts * (Shifts - 1))));
    }

    /// <summary>Share of each Chebyshev point in the mean over the directions of a shift, by the barycentric form of the interpolating polynomial.</summary>
    private void Share(double[] sizes)
    {
        double low = sizes.Min() * (1 - 1e-9), high = sizes.Max() * (1 + 1e-9);
        double[] weight = new double[Nodes], term = new double[Nodes];
        for (int k = 0; k < Nodes; k++)
        {
            double angle = Math.PI * (k + 0.5) / Nodes;
            _nodes[k] = 0.5 * (low + high) + 0.5 * (high - low) * Math.Cos(angle);
            weight[k] = (k % 2 == 0 ? 1 : -1) * Math.Sin(angle);
        }
        for (int i = 0; i < sizes.Length; i++)
        {
            int at = Array.IndexOf(_nodes, sizes[i]);
            double sum = 0;
            for (int k = 0; k < Nodes; k++) sum += term[k] = at < 0 ? weight[k] / (sizes[i] - _nodes[k]) : k == at ? 1 : 0;
            for (int k = 0; k < Nodes; k++) _share[i / Points, k] += term[k] / sum / Points;
        }
    }

    /// <summary>All directions in a space of some rank, shift by shift.</summary>
    private static double[] Lattice(int rank)
    {
        double[] generator = [.. Primes().Take(rank).Select(p => Math.Sqrt(p) % 1)], x = new double[Shifts * Points * rank];
        for (int i = 0; i < Shifts * Points; i++) Direction(generator, i / Points, i % Points, x.AsSpan(i * rank, rank));
        return x;
    }

    /// <summary>A lattice point, folded so that it is periodic, made normal and scaled to length 1.</summary>
    private static void Direction(double[] generator, int shift, int point, Span<double> x)
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
