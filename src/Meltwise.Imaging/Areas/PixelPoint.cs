namespace Meltwise.Imaging.Areas;

/// <summary>A point of a picture in pixels: the pixel of column j and row i covers X from j to j + 1 and Y from i to i + 1.</summary>
/// <param name="X">Columns from the left.</param>
/// <param name="Y">Rows from the top.</param>
public readonly record struct PixelPoint(double X, double Y)
{
    /// <summary>Distance to another point, in pixels.</summary>
    public double DistanceTo(PixelPoint other) => Math.Sqrt((X - other.X) * (X - other.X) + (Y - other.Y) * (Y - other.Y));
}
