using System.Globalization;

namespace Meltwise.Publishing.Drawing;

/// <summary>Length of a scale bar: the largest of 1, 2 or 5 times a power of ten that is no longer than a share of the picture.</summary>
public static class ScaleLength
{
    // A bar of a fifth to a half of this share reads well beside the picture; common practice, no source.
    private const double Share = 0.35;

    /// <summary>The length in µm.</summary>
    /// <param name="widthUm">Width of the picture, µm, above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">The width is not above 0 or not finite.</exception>
    public static double Of(double widthUm)
    {
        if (!(widthUm > 0) || !double.IsFinite(widthUm))
            throw new ArgumentOutOfRangeException(nameof(widthUm), widthUm, "A picture has a width above 0 µm.");
        double most = widthUm * Share, decade = Math.Pow(10, Math.Floor(Math.Log10(most)));
        return most >= 5 * decade ? 5 * decade : most >= 2 * decade ? 2 * decade : decade;
    }

    /// <summary>The length with its unit: <c>20 µm</c>, <c>0.5 µm</c>, <c>1 mm</c>.</summary>
    public static string Label(double um) => um >= 1000
        ? string.Create(CultureInfo.InvariantCulture, $"{um / 1000:0.###}\u00A0mm")
        : string.Create(CultureInfo.InvariantCulture, $"{um:0.######}\u00A0µm");
}
