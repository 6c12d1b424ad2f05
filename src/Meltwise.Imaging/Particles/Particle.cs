using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Particles;

/// <summary>One particle as measured, lengths in pixels. Pixel (row i, column j) covers x from j to j + 1 and y from i to i + 1.</summary>
public sealed record Particle
{
    /// <summary>Number in the picture, from 1, in raster order.</summary>
    public int Number { get; init; }

    /// <summary>Centroid, columns from the left of the picture.</summary>
    public double X { get; init; }

    /// <summary>Centroid, rows from the top of the picture.</summary>
    public double Y { get; init; }

    /// <summary>Pixels of the mask.</summary>
    public int Pixels { get; init; }

    /// <summary>Area in square pixels, refined below the pixel and corrected for blur: see <see cref="SubPixelArea"/>.</summary>
    public double Area { get; init; }

    /// <summary>Area if the threshold were one grey-level step higher.</summary>
    public double AreaOneStepUp { get; init; }

    /// <summary>Area if the threshold were one grey-level step lower.</summary>
    public double AreaOneStepDown { get; init; }

    /// <summary>Diameter of the circle of equal area, √(4A/π).</summary>
    public double EquivalentDiameter => Math.Sqrt(4 * Area / Math.PI);

    /// <summary>Largest distance between parallel lines touching the particle (maximum Feret diameter) of the mask.</summary>
    public double FeretMax { get; init; }

    /// <summary>Smallest distance between parallel lines touching the particle (minimum Feret diameter) of the mask.</summary>
    public double FeretMin { get; init; }

    /// <summary>Major axis of the ellipse of equal second moments.</summary>
    public double MajorAxis { get; init; }

    /// <summary>Minor axis of the ellipse of equal second moments.</summary>
    public double MinorAxis { get; init; }

    /// <summary>Major over minor axis, 1 or more.</summary>
    public double Aspect => MinorAxis > 0 ? MajorAxis / MinorAxis : 1;

    /// <summary>Direction of the major axis, degrees from the +x axis towards +y (down), -90 to 90.</summary>
    public double AngleDegrees { get; init; }

    /// <summary>Mean grey level of the mask, flattened, in 8-bit steps (of the negative for dark particles).</summary>
    public double MeanGrey { get; init; }

    /// <summary>Whether the frame or an excluded area cuts the particle, so that its size is not known.</summary>
    public bool Cut { get; init; }

    /// <summary>Class by grey level, from 1 (nearest the matrix); 1 when one class was asked for.</summary>
    public int GreyClass { get; init; } = 1;

    /// <summary>Pixels of the mask as runs in raster order; empty unless masks were asked for.</summary>
    public IReadOnlyList<Run> Mask { get; init; } = [];

    /// <summary>Smallest box of pixels around the particle.</summary>
    public PixelBox Box { get; init; }
}
