using Meltwise.Statistics.Distributions;

namespace Meltwise.Imaging.Stereology;

/// <summary>Clustering of particles from the distances of their centroids to the nearest other centroid.</summary>
/// <remarks>
/// <para><b>Formula.</b> R = mean distance / expected distance of random points, with the expectation 0.5 √(A/n) + (0.0514 + 0.041/√n) P/n and the standard error √(0.0703 A/n² + 0.037 P √(A/n⁵)),
/// A area, P perimeter of the rectangle: the correction for points whose nearest neighbour lies beyond the frame. R below 1 is clustered, above 1 ordered; z is the difference in standard errors.</para>
/// <para><b>Limits.</b> At least 8 particles. Particles have size and cannot overlap, which by itself makes R exceed 1: for particles that cover more than a few per cent compare with another picture, not with 1.</para>
/// <para><b>Source.</b> P. J. Clark, F. C. Evans, Ecology 35 (1954) 445-453; K. Donnelly, in Simulation Methods in Archaeology, Cambridge (1978) 91-95.</para>
/// </remarks>
public static class NearestNeighbours
{
    /// <summary>Least number of points.</summary>
    public const int LeastPoints = 8;

    /// <summary>Clustering of points in a rectangle, or null with fewer than <see cref="LeastPoints"/>.</summary>
    /// <param name="x">Places across, in any unit.</param>
    /// <param name="y">Places down, in the same unit.</param>
    /// <param name="width">Width of the rectangle.</param>
    /// <param name="height">Height of the rectangle.</param>
    public static Clustering? Of(IReadOnlyList<double> x, IReadOnlyList<double> y, double width, double height)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        int n = x.Count;
        if (n < LeastPoints) return null;
        double mean = PointGrid.NearestDistances(x, y, width, height).Average();
        double area = width * height, perimeter = 2 * (width + height);
        double expected = 0.5 * Math.Sqrt(area / n) + (0.0514 + 0.041 / Math.Sqrt(n)) * perimeter / n;
        double error = Math.Sqrt(0.0703 * area / ((double)n * n) + 0.037 * perimeter * Math.Sqrt(area / Math.Pow(n, 5)));
        double z = (mean - expected) / error;
        return new(n, mean, mean / expected, z, 2 * Normal.UpperTail(Math.Abs(z)));
    }
}

/// <summary>Nearest-neighbour clustering.</summary>
/// <param name="Points">Number of particles.</param>
/// <param name="MeanDistance">Mean distance to the nearest neighbour, in the unit given.</param>
/// <param name="Ratio">Mean over expected distance of random points: below 1 clustered, above 1 ordered.</param>
/// <param name="Z">Departure from random in standard errors.</param>
/// <param name="PValue">Two-sided probability of such a departure for random points.</param>
public sealed record Clustering(int Points, double MeanDistance, double Ratio, double Z, double PValue);
