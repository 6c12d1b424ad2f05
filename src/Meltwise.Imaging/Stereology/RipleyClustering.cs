using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Stereology;

/// <summary>Clustering of particles at every distance, with the range that random places would give.</summary>
/// <remarks>
/// <para><b>Formula.</b> K(r) = A/(n(n - 1)) Σ_{i≠j} 1(d_ij ≤ r) · A/((W - |Δx|)(H - |Δy|)), the translation correction for the frame; shown as L(r) - r = √(K/π) - r: above 0 clustered, below ordered at that distance.
/// The envelope is the least and greatest of 99 patterns of n random points in the same frame, so each distance alone has a 2 % chance of lying outside for random points.</para>
/// <para><b>Limits.</b> Distances up to a quarter of the shorter side. Random points may overlap, particles cannot: below about a particle diameter L(r) - r is negative for that reason alone.</para>
/// <para><b>Source.</b> B. D. Ripley, J. Royal Statistical Society B 39 (1977) 172-212; translation correction: J. Ohser, Math. Operationsforschung und Statistik, series statistics 14 (1983) 63-71.</para>
/// </remarks>
public static class RipleyClustering
{
    private const int Steps = 40, Patterns = 99;

    /// <summary>The curve and its envelope, or null with fewer than 20 points.</summary>
    /// <param name="x">Places across.</param>
    /// <param name="y">Places down, in the same unit.</param>
    /// <param name="width">Width of the rectangle.</param>
    /// <param name="height">Height of the rectangle.</param>
    /// <param name="seed">Seed of the random patterns; the result is the same at any number of threads.</param>
    /// <param name="cancel">Stops the work.</param>
    public static RipleyCurve? Of(IReadOnlyList<double> x, IReadOnlyList<double> y, double width, double height, int seed = 1, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        if (x.Count < 20) return null;
        double reach = 0.25 * Math.Min(width, height);
        double[] seen = Curve(x, y, width, height, reach);
        var random = new double[Patterns][];
        Parallel.For(0, Patterns, RowBands.Workers(cancel), k =>
        {
            Random draw = new(unchecked(seed * 7919 + k));
            double[] rx = [.. x.Select(_ => draw.NextDouble() * width)], ry = [.. x.Select(_ => draw.NextDouble() * height)];
            random[k] = Curve(rx, ry, width, height, reach);
        });
        double[] distance = [.. Enumerable.Range(1, Steps).Select(i => i * reach / Steps)];
        double[] low = [.. Enumerable.Range(0, Steps).Select(i => random.Min(c => c[i]))], high = [.. Enumerable.Range(0, Steps).Select(i => random.Max(c => c[i]))];
        return new(distance, seen, low, high);
    }

    private static double[] Curve(IReadOnlyList<double> x, IReadOnlyList<double> y, double width, double height, double reach)
    {
        PointGrid grid = new(x, y, width, height, Math.Sqrt(width * height / x.Count));
        var sums = new double[Steps];
        for (int i = 0; i < x.Count; i++)
        {
            int at = i;
            grid.Within(i, reach, (j, d) =>
            {
                int step = Math.Min(Steps - 1, (int)(d / reach * Steps));
                sums[step] += width * height / ((width - Math.Abs(x[at] - x[j])) * (height - Math.Abs(y[at] - y[j])));
            });
        }
        var curve = new double[Steps];
        double scale = width * height / ((double)x.Count * (x.Count - 1)), sum = 0;
        for (int k = 0; k < Steps; k++)
        {
            sum += sums[k];
            curve[k] = Math.Sqrt(sum * scale / Math.PI) - (k + 1) * reach / Steps;
        }
        return curve;
    }
}

/// <summary>L(r) - r by distance, with the envelope of random patterns.</summary>
/// <param name="Distance">Distances, in the unit given.</param>
/// <param name="Excess">L(r) - r.</param>
/// <param name="Lower">Least value of the random patterns.</param>
/// <param name="Upper">Greatest value of the random patterns.</param>
public sealed record RipleyCurve(IReadOnlyList<double> Distance, IReadOnlyList<double> Excess, IReadOnlyList<double> Lower, IReadOnlyList<double> Upper)
{
    /// <summary>Distances at which the particles are more clustered than every random pattern.</summary>
    public IReadOnlyList<double> ClusteredAt => [.. Distance.Where((_, i) => Excess[i] > Upper[i])];
}
