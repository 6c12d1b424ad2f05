using Meltwise.Statistics.Extremes;

namespace Meltwise.Imaging.Stereology;

/// <summary>Largest particle to expect in a reference area, from the largest of each of many fields.</summary>
/// <remarks>
/// <para><b>Formula.</b> Gumbel distribution of the field maxima by maximum likelihood, see <see cref="GumbelLargest"/>; return period T = reference area / area of a field; 95 % limits as ± 2 standard errors.</para>
/// <para><b>Assumptions.</b> Fields of one area, one kind of particle. Where two kinds are mixed (carbides and slag) a single Gumbel distribution foretells too small a value.
/// A particle cut by the frame counts by what is seen of it only when that is the largest: it is left out here, so fields should be wide against the largest particle.</para>
/// <para><b>Limits.</b> The standard takes 24 areas of 150 mm² and T = 1000; fewer or smaller areas reach less far.</para>
/// <para><b>Source.</b> ASTM E2283.</para>
/// </remarks>
public static class LargestParticle
{
    private const double LeastPeriod = 2;

    /// <summary>Extrapolates to the reference area.</summary>
    /// <param name="fields">Measured fields of equal area, at least 6, each with a scale and a particle.</param>
    /// <param name="referenceAreaMm2">Reference area in square millimetres; at least two fields' worth.</param>
    /// <exception cref="ArgumentException">Fields without a scale or a particle, of different area, or a reference area too small.</exception>
    public static LargestEstimate Expect(IReadOnlyList<PictureResult> fields, double referenceAreaMm2)
    {
        ArgumentNullException.ThrowIfNull(fields);
        if (fields.FirstOrDefault(f => f.InspectedAreaMm2 is null || f.DiameterUm is null) is { } bare)
            throw new ArgumentException($"{Path.GetFileName(bare.File)} has no scale or no whole particle; the largest particle needs both in every field.", nameof(fields));
        double area = fields[0].InspectedAreaMm2!.Value;
        if (fields.FirstOrDefault(f => Math.Abs(f.InspectedAreaMm2!.Value / area - 1) > 0.01) is { } other)
            throw new ArgumentException($"{Path.GetFileName(other.File)} differs in area from {Path.GetFileName(fields[0].File)}; the largest particle is compared over equal areas only.", nameof(fields));
        return Expect([.. fields.Select(f => f.DiameterUm!.Largest)], area, referenceAreaMm2);
    }

    /// <summary>Extrapolates from the largest of each field.</summary>
    /// <param name="largestUm">Largest particle of each field, micrometres.</param>
    /// <param name="fieldAreaMm2">Area of a field, square millimetres.</param>
    /// <param name="referenceAreaMm2">Reference area, square millimetres.</param>
    public static LargestEstimate Expect(IReadOnlyList<double> largestUm, double fieldAreaMm2, double referenceAreaMm2)
    {
        ArgumentNullException.ThrowIfNull(largestUm);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(fieldAreaMm2);
        double period = referenceAreaMm2 / fieldAreaMm2;
        if (!(period >= LeastPeriod))
            throw new ArgumentException("The reference area must be at least two fields: within one field the largest was seen.", nameof(referenceAreaMm2));
        GumbelFit fit = GumbelLargest.Fit(largestUm);
        (double level, double error) = fit.ReturnLevel(period, expected: true);
        List<string> notes = [];
        (double low, double high) = fit.ReturnLevelInterval(period, 0.95);
        notes.Add(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"Two standard errors cover somewhat less than 95 % with so few fields (91 % at 24 by simulation); the interval that is exact for {largestUm.Count} fields is {low:F1} to {high:F1} µm."));
        if (largestUm.Count < 24) notes.Add($"{largestUm.Count} fields; the standard takes 24.");
        if (period > 50 * largestUm.Count) notes.Add("The reference area is more than 50 times what was inspected: far beyond the data.");
        return new(largestUm.Max(), largestUm.Count * fieldAreaMm2, fit, period, new(level, level - 2 * error, level + 2 * error, 0.95, "ASTM E2283: two standard errors"), notes);
    }
}

/// <summary>Largest particle seen and expected.</summary>
/// <param name="SeenUm">Largest seen, micrometres.</param>
/// <param name="InspectedAreaMm2">Area in which it was the largest, square millimetres.</param>
/// <param name="Fit">The fitted distribution of field maxima, micrometres.</param>
/// <param name="ReturnPeriod">Reference area over field area.</param>
/// <param name="ExpectedUm">Largest expected in the reference area, micrometres.</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record LargestEstimate(double SeenUm, double InspectedAreaMm2, GumbelFit Fit, double ReturnPeriod, Interval ExpectedUm, IReadOnlyList<string> Notes);
