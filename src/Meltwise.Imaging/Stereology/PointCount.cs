using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Stereology;

/// <summary>Share of the points of a grid that fall on particles: the manual method, done by the machine.</summary>
/// <remarks>
/// <para><b>Formula.</b> P_P = points on particles / points; points at the middles of equal cells. The mean over fields estimates the volume fraction; interval by <see cref="FieldMean"/>.</para>
/// <para><b>Limits.</b> Grids of 16 to 100 points are usual; a field of 100 points scatters by about √(P(1 - P)/100) for points farther apart than particles are wide. The area fraction of the same field is sharper; the point count is there to be held against a count by eye.</para>
/// <para><b>Source.</b> ASTM E562, grid sizes from memory.</para>
/// </remarks>
public static class PointCount
{
    /// <summary>Share of grid points on particles.</summary>
    /// <param name="picture">A picture whose particles kept their masks.</param>
    /// <param name="pointsAcross">Points across.</param>
    /// <param name="pointsDown">Points down.</param>
    public static double Share(SegmentedPicture picture, int pointsAcross = 10, int pointsDown = 10)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pointsAcross);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(pointsDown);
        var frame = picture.Plan.Inspected;
        HashSet<int> columns = [.. Enumerable.Range(0, pointsAcross).Select(i => frame.X + (int)((i + 0.5) * frame.Width / pointsAcross))];
        HashSet<int> rows = [.. Enumerable.Range(0, pointsDown).Select(i => frame.Y + (int)((i + 0.5) * frame.Height / pointsDown))];
        int on = 0;
        foreach (Particle p in picture.Particles)
            foreach (Run run in p.Mask)
                if (rows.Contains(run.Y)) on += columns.Count(x => x >= run.From && x < run.To);
        return (double)on / (pointsAcross * pointsDown);
    }
}
