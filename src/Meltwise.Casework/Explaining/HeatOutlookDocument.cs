using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Casework.Explaining;

/// <summary>What a heat's chemistry and hot history say beside hardness: oxides and the flaws they make, growth of each carbide. Models: they compare heats and predict no coupon.</summary>
/// <param name="Heat">The heat.</param>
/// <param name="Oxides">Oxides, or null without an oxygen result.</param>
/// <param name="Carbides">Growth of each carbide over the hot history, the coarsest first; empty without a history.</param>
/// <param name="Notes">What is missing and what was assumed; never empty.</param>
/// <param name="Sources">Models and data used.</param>
public sealed record HeatOutlookDocument(
    string Heat, OxideOutlook? Oxides, IReadOnlyList<CarbideOutlook> Carbides, IReadOnlyList<string> Notes, IReadOnlyList<string> Sources)
{
    private static readonly double[] s_sizesUm = [5, 10, 20];

    /// <summary>The outlook of a heat; what cannot be computed is said in the notes and the rest given.</summary>
    /// <param name="heat">Its chemistry.</param>
    /// <param name="background">What else is known of it.</param>
    public static HeatOutlookDocument Of(HeatChemistry heat, HeatBackground background)
    {
        ArgumentNullException.ThrowIfNull(heat);
        ArgumentNullException.ThrowIfNull(background);
        (HeatOutlookResult? result, string? why) = Try(heat, background);
        if (result is null && background.History.Count > 0) (result, _) = Try(heat, background with { History = [], PowderDiameterM = null });
        if (result is null) return new(heat.Name, null, [], [why!], []);
        return new(heat.Name, result.Oxygen is { } oxygen ? Oxide(oxygen, result.OxygenRank) : null,
            [.. (result.Coarsening?.Carbides ?? []).Select(Carbide)],
            [.. new[] { why }.OfType<string>(), .. result.Notes, .. result.Oxygen?.Notes ?? [], .. result.OxygenRank?.Notes ?? [], .. result.Coarsening?.Notes ?? []],
            [.. SourcesOf(result).Select(s => s.ToString()).Distinct(StringComparer.Ordinal)]);
    }

    private static (HeatOutlookResult? Result, string? Why) Try(HeatChemistry heat, HeatBackground background)
    {
        try
        {
            return (HeatOutlook.Of(heat, background), null);
        }
        catch (OutsideModelRangeException range)
        {
            return (null, range.Words);
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or SteelCompositionException)
        {
            return (null, refused.Message);
        }
    }

    private static OxideOutlook Oxide(OxygenAssessmentResult oxygen, OxygenRankResult? rank) => new(
        oxygen.OxygenPpm, oxygen.Fraction.Oxide.Name, oxygen.Fraction.VolumePercent / 100, oxygen.Fraction.Lowest / 100, oxygen.Fraction.Highest / 100,
        1e9 * oxygen.StressedVolumeM3,
        [.. s_sizesUm.Append(1e6 * oxygen.CriticalDiameterM).Order().Select(um => new OxidesAboveSize(um, 1e-9 * oxygen.NumberAbovePerM3(1e-6 * um), oxygen.NumberAbovePerM3(1e-6 * um) * oxygen.StressedVolumeM3))],
        1e6 * oxygen.CriticalDiameterM, oxygen.Assumptions.ToughnessPaSqrtM / 1e6, oxygen.Assumptions.StressPa / 1e6,
        oxygen.Chances.Coupons, oxygen.Chances.OneCoupon, oxygen.Chances.AtLeastOne,
        rank is null ? null : new(rank.HeatsWithLess, rank.Heats, rank.LowerPpm, rank.UpperPpm, rank.Standing switch
        {
            OxygenStanding.Low => "low",
            OxygenStanding.High => "high",
            OxygenStanding.Usual => "usual",
            _ => "too few heats",
        }));

    private static CarbideOutlook Carbide(CarbideCoarsening c) => new(
        c.Carbide.ToString(), 2e6 * c.Growth.InitialRadiusM, 2e6 * c.Growth.FinalRadiusM, 2e6 * c.SmallestFinalRadiusM, 2e6 * c.LargestFinalRadiusM, c.RateAtHottest.SlowestElement);

    private static IEnumerable<Source> SourcesOf(HeatOutlookResult result) =>
        [.. result.Oxygen?.Sources ?? [], .. result.OxygenRank is { } rank ? (Source[])[rank.Source] : [], .. result.CarbideAsFrozenM is null ? [] : PowderSolidification.Sources, .. result.Coarsening?.Sources ?? []];
}

/// <summary>Oxides of a heat. Volume fractions 0 to 1, sizes as diameters in µm.</summary>
/// <param name="OxygenPpm">Total oxygen, ppm by mass.</param>
/// <param name="Oxide">The oxide that all oxygen is taken to be in.</param>
/// <param name="VolumeFraction">As that oxide.</param>
/// <param name="VolumeFractionLower">As the oxide of least volume.</param>
/// <param name="VolumeFractionUpper">As the oxide of largest volume.</param>
/// <param name="StressedVolumeMm3">Volume of a coupon that sees nearly the highest stress, mm³.</param>
/// <param name="NumberAbove">How many there are above a size.</param>
/// <param name="CriticalDiameterUm">The smallest oxide that starts fracture at this toughness and stress.</param>
/// <param name="ToughnessMPaSqrtM">Fracture toughness taken, MPa√m.</param>
/// <param name="StressMPa">Stress taken, MPa.</param>
/// <param name="Coupons">Number of coupons.</param>
/// <param name="ChanceOneCoupon">Chance that an oxide governs one coupon.</param>
/// <param name="ChanceAtLeastOne">Chance that it governs one or more of them.</param>
/// <param name="Rank">Place among the heats of the route, or null.</param>
public sealed record OxideOutlook(
    double OxygenPpm, string Oxide, double VolumeFraction, double VolumeFractionLower, double VolumeFractionUpper, double StressedVolumeMm3, IReadOnlyList<OxidesAboveSize> NumberAbove,
    double CriticalDiameterUm, double ToughnessMPaSqrtM, double StressMPa, int Coupons, double ChanceOneCoupon, double ChanceAtLeastOne, OxygenPlace? Rank);

/// <summary>Oxides above a size.</summary>
/// <param name="DiameterUm">The size, µm.</param>
/// <param name="PerMm3">In a cubic millimetre.</param>
/// <param name="InStressedVolume">In the stressed volume of one coupon.</param>
public sealed record OxidesAboveSize(double DiameterUm, double PerMm3, double InStressedVolume);

/// <summary>Where a heat's oxygen stands among the other heats of its route.</summary>
/// <param name="HeatsWithLess">Heats with less.</param>
/// <param name="Heats">Heats it is ranked among.</param>
/// <param name="LowerPpm">Lower tolerance limit, or null with few heats.</param>
/// <param name="UpperPpm">Upper tolerance limit.</param>
/// <param name="Standing"><c>low</c>, <c>usual</c>, <c>high</c> or <c>too few heats</c>.</param>
public sealed record OxygenPlace(int HeatsWithLess, int Heats, double? LowerPpm, double? UpperPpm, string Standing);

/// <summary>Growth of a carbide over the hot history, diameters in µm.</summary>
/// <param name="Carbide">Kind.</param>
/// <param name="InitialDiameterUm">Before.</param>
/// <param name="FinalDiameterUm">After.</param>
/// <param name="LowerUm">After, with the law as printed.</param>
/// <param name="UpperUm">After, with ten times its rate.</param>
/// <param name="HeldBackBy">The element that slows it most.</param>
public sealed record CarbideOutlook(string Carbide, double InitialDiameterUm, double FinalDiameterUm, double LowerUm, double UpperUm, string HeldBackBy);
