namespace Meltwise.Domain;

/// <summary>One result for one element of one heat. Two methods for one element are both kept.</summary>
/// <param name="Heat">Name of the heat.</param>
/// <param name="Element">Chemical symbol: <c>C</c>, <c>Cr</c>.</param>
/// <param name="Typed">The figure as typed, <c>wt%</c> or <c>ppm</c>; below the detection limit is censored <see cref="Censoring.Below"/>.</param>
/// <param name="Method">Method, e.g. <c>combustion</c>, <c>inert gas fusion</c>, <c>spark OES</c>, <c>certificate</c>; null when unknown.</param>
/// <param name="Laboratory">Who measured, or null when unknown.</param>
/// <param name="ExpandedUncertainty">U as stated, in the unit of the figure; null when none was stated.</param>
/// <param name="CoverageFactor">k of the stated uncertainty; null means 2 is assumed and said.</param>
/// <param name="Date">Day of the analysis.</param>
public sealed record ChemistryResult(
    string Heat, string Element, CensoredValue Typed, string? Method, string? Laboratory,
    double? ExpandedUncertainty = null, double? CoverageFactor = null, DateOnly? Date = null)
{
    /// <summary>The result in mass percent: quantified with its standard uncertainty (NaN when none was stated), or below a limit.</summary>
    public ElementResult Result => Typed.Censoring == Censoring.Below
        ? new ElementResult.BelowLimit(Typed.Value * ToMassPercent)
        : new ElementResult.Quantified(Typed.Value * ToMassPercent, ExpandedUncertainty / (CoverageFactor ?? 2) * ToMassPercent ?? double.NaN);

    private double ToMassPercent => Typed.Unit == "ppm" ? 1e-4 : 1;
}
