using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Transformation;

/// <summary>A range of one element in the austenite within which a formula was made or is trusted.</summary>
/// <param name="Element">The element.</param>
/// <param name="LowestMassPercent">Lowest content covered.</param>
/// <param name="HighestMassPercent">Highest content covered.</param>
public readonly record struct ElementRange(AlloyElement Element, double LowestMassPercent, double HighestMassPercent);

/// <summary>One named formula for the martensite start of an austenite.</summary>
/// <param name="Name">Authors and year, or what the formula is known by.</param>
/// <param name="Formula">The formula as printed, contents in mass percent, result in °C.</param>
/// <param name="Source">Where it was published.</param>
/// <param name="Range">Range of use in words.</param>
/// <param name="Limits">The part of the range that can be tested on a composition.</param>
/// <param name="Celsius">The formula: austenite to °C.</param>
public sealed record MartensiteStartFormula(
    string Name, string Formula, Source Source, string Range, IReadOnlyList<ElementRange> Limits, Func<AlloyContent, double> Celsius)
{
    /// <summary>Every published range that <paramref name="austenite"/> leaves, in words; empty when it leaves none.</summary>
    public IReadOnlyList<string> RangeFaults(AlloyContent austenite)
    {
        List<string> faults = [];
        foreach (ElementRange limit in Limits)
        {
            double found = austenite[limit.Element];
            if (found < limit.LowestMassPercent || found > limit.HighestMassPercent)
                faults.Add(string.Create(System.Globalization.CultureInfo.InvariantCulture,
                    $"{limit.Element} {found:0.##} wt% in the austenite, formula for {limit.LowestMassPercent:0.##} to {limit.HighestMassPercent:0.##}"));
        }
        return faults;
    }
}
