namespace Meltwise.Imaging.Stereology;

/// <summary>Sizes of spheres in space from the sizes of the circles that a plane cuts.</summary>
/// <remarks>
/// <para><b>Formula.</b> Classes of width Δ up to the largest diameter; spheres of class j have the diameter jΔ. N_A(i) = Δ Σ_j N_V(j) [√(j² - (i-1)²) - √(j² - i²)], solved from the largest class down.
/// Errors come from counting alone: the variance of a class count is the count.</para>
/// <para><b>Assumptions.</b> Spheres, placed independently of the plane; thickness of etching and polish-out not allowed for. Errors of the large classes pass into the small ones, which may come out negative:
/// they are kept negative, counted, and left out of means. More than 15 classes need thousands of sections.</para>
/// <para><b>Source.</b> H. A. Schwartz, Metals and Alloys 5 (1934) 139; S. A. Saltykov, Stereometric Metallography, 2nd ed., Metallurgizdat, Moscow (1958); coefficients as in E. E. Underwood, Quantitative Stereology, Addison-Wesley (1970), from memory.</para>
/// </remarks>
public static class SaltykovUnfolding
{
    /// <summary>Unfolds section diameters.</summary>
    /// <param name="diameters">Diameters of the sections, in any unit of length.</param>
    /// <param name="area">Inspected area in the square of that unit. With sections cut by the frame left out, give the area that the whole ones stand for.</param>
    /// <param name="classes">Number of classes, 3 to 30.</param>
    /// <exception cref="ArgumentException">No diameters, or one that is not positive.</exception>
    public static SizeDistribution Unfold(IReadOnlyList<double> diameters, double area, int classes = 12)
    {
        (double[] counts, double width) = SectionClasses.Of(diameters, classes);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(area);
        var perVolume = new double[classes];
        var variance = new double[classes];
        double[,] inverse = InverseUpper(SectionClasses.Kernel(classes, width));
        for (int i = 0; i < classes; i++)
            for (int j = i; j < classes; j++)
            {
                perVolume[i] += inverse[i, j] * counts[j] / area;
                variance[i] += inverse[i, j] * inverse[i, j] * counts[j] / (area * area);
            }
        List<string> notes = [];
        int negative = perVolume.Count(v => v < 0);
        if (negative > 0) notes.Add($"{negative} of {classes} classes came out negative and are left out of the means: counting scatter of the larger classes.");
        return new("Schwartz-Saltykov", width, perVolume, [.. variance.Select(Math.Sqrt)], notes);
    }

    private static double[,] InverseUpper(double[,] a)
    {
        int n = a.GetLength(0);
        var inverse = new double[n, n];
        for (int column = 0; column < n; column++)
            for (int row = column; row >= 0; row--)
            {
                double sum = row == column ? 1 : 0;
                for (int k = row + 1; k <= column; k++) sum -= a[row, k] * inverse[k, column];
                inverse[row, column] = sum / a[row, row];
            }
        return inverse;
    }
}

/// <summary>Section diameters sorted into classes, and how spheres of each class fill them.</summary>
internal static class SectionClasses
{
    public static (double[] Counts, double Width) Of(IReadOnlyList<double> diameters, int classes)
    {
        ArgumentNullException.ThrowIfNull(diameters);
        ArgumentOutOfRangeException.ThrowIfLessThan(classes, 3);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(classes, 30);
        if (diameters.Count == 0 || diameters.Any(d => !(d > 0) || !double.IsFinite(d)))
            throw new ArgumentException("Unfolding needs section diameters above zero.", nameof(diameters));
        double width = diameters.Max() / classes;
        var counts = new double[classes];
        foreach (double d in diameters) counts[Class(d, width, classes)]++;
        return (counts, width);
    }

    /// <summary>Class i holds i widths ≤ d &lt; i + 1 widths, the limits as products: a quotient rounds the other way now and then.</summary>
    private static int Class(double d, double width, int classes)
    {
        int i = (int)(d / width);
        if (d < i * width) i--;
        else if (d >= (i + 1) * width) i++;
        return Math.Min(classes - 1, i);
    }

    /// <summary>Sections of class i per unit area from one sphere of class j (diameter jΔ) per unit volume.</summary>
    public static double[,] Kernel(int classes, double width)
    {
        var kernel = new double[classes, classes];
        for (int i = 1; i <= classes; i++)
            for (int j = i; j <= classes; j++)
                kernel[i - 1, j - 1] = width * (Math.Sqrt(j * j - (i - 1.0) * (i - 1)) - Math.Sqrt(j * j - (double)i * i));
        return kernel;
    }
}

/// <summary>Number of spheres per unit volume by diameter.</summary>
/// <param name="Method">How it was made.</param>
/// <param name="ClassWidth">Width of a class; class i (from 1) spans (i - 1) to i widths.</param>
/// <param name="PerVolume">Spheres per unit volume in each class.</param>
/// <param name="StandardError">Standard error of each, from counting.</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record SizeDistribution(string Method, double ClassWidth, IReadOnlyList<double> PerVolume, IReadOnlyList<double> StandardError, IReadOnlyList<string> Notes)
{
    /// <summary>Spheres per unit volume, negative classes left out.</summary>
    public double TotalPerVolume => PerVolume.Sum(v => Math.Max(0, v));

    /// <summary>Mean diameter, each class at its upper limit as the coefficients assume; negative classes left out.</summary>
    public double MeanDiameter => PerVolume.Select((v, i) => Math.Max(0, v) * (i + 1) * ClassWidth).Sum() / TotalPerVolume;

    /// <summary>Standard deviation of the diameter, likewise.</summary>
    public double DiameterDeviation =>
        Math.Sqrt(PerVolume.Select((v, i) => Math.Max(0, v) * Math.Pow((i + 1) * ClassWidth - MeanDiameter, 2)).Sum() / TotalPerVolume);

    /// <summary>Volume fraction, each class at its upper limit.</summary>
    public double VolumeFraction => PerVolume.Select((v, i) => Math.Max(0, v) * Math.PI / 6 * Math.Pow((i + 1) * ClassWidth, 3)).Sum();
}
