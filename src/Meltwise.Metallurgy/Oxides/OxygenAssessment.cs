using System.Globalization;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>What is assumed of oxides and of the coupon, to go from ppm to the chance of a low coupon. Every value can be changed.</summary>
public sealed record OxygenAssumptions
{
    /// <summary>Oxide after the deoxidation practice.</summary>
    public Oxide Oxide { get; init; } = OxideFraction.Named("Al2O3");

    /// <summary>Median oxide diameter by number, m.</summary>
    public double MedianDiameterM { get; init; } = 1e-6;

    /// <summary>Geometric standard deviation of the diameter.</summary>
    public double GeometricSd { get; init; } = 2;

    /// <summary>Fracture toughness, Pa√m.</summary>
    public double ToughnessPaSqrtM { get; init; } = 20e6;

    /// <summary>Highest tension at fracture, Pa.</summary>
    public double StressPa { get; init; } = 4e9;

    /// <summary>Distance of the supports, m.</summary>
    public double SpanM { get; init; } = 0.040;

    /// <summary>Width, m.</summary>
    public double WidthM { get; init; } = 0.010;

    /// <summary>Height, m.</summary>
    public double HeightM { get; init; } = 0.007;

    /// <summary>Share of the highest stress that a flaw must see to count.</summary>
    public double ShareOfHighestStress { get; init; } = 0.9;

    /// <summary>Where the flaw sits.</summary>
    public FlawPlace Place { get; init; } = FlawPlace.Interior;

    /// <summary>The defaults in words.</summary>
    public static Source Source { get; } = new("Oxides of 1 µm median and geometric standard deviation 2; 20 MPa√m; 4000 MPa; bend coupon 7 × 10 mm on 40 mm", SourceStatus.Assumption);
}

/// <summary>From total oxygen to the chance that an oxide governs a coupon: oxide fraction, number above the critical size in the stressed volume, at least one among n.</summary>
/// <remarks>
/// <para><b>Method.</b> <see cref="OxideFraction"/>, <see cref="OxidePopulation"/>, <see cref="CriticalFlaw"/> at the stress of the assumptions, <see cref="StressedVolume"/>,
/// <see cref="FlawGovernedCoupons"/>.</para>
/// <para><b>Limits.</b> The chance hangs on the far tail of an assumed size distribution: it compares two heats under the same assumptions, and predicts neither.</para>
/// </remarks>
public static class OxygenAssessment
{
    /// <summary>Assesses a heat.</summary>
    /// <param name="oxygenPpm">Total oxygen, ppm by mass.</param>
    /// <param name="coupons">Number of coupons.</param>
    /// <param name="assumptions">Assumptions; null takes the defaults.</param>
    /// <exception cref="OutsideModelRangeException">A value outside the range of a step.</exception>
    public static OxygenAssessmentResult Of(double oxygenPpm, int coupons, OxygenAssumptions? assumptions = null)
    {
        OxygenAssumptions a = assumptions ?? new();
        OxideFractionResult fraction = OxideFraction.Of(oxygenPpm, a.Oxide);
        OxidePopulation population = new(fraction.VolumePercent / 100, a.MedianDiameterM, a.GeometricSd);
        double critical = CriticalFlaw.SphereDiameterM(CriticalFlaw.SqrtAreaM(a.ToughnessPaSqrtM, a.StressPa, a.Place));
        double volume = StressedVolume.AboveShareM3(a.SpanM, a.WidthM, a.HeightM, a.ShareOfHighestStress);
        FlawChances chances = FlawGovernedCoupons.Of(population.ExpectedNumber(critical, volume), coupons);
        return new(oxygenPpm, fraction, population.NumberPerM3, critical, volume, chances, a,
            [OxideFraction.Source, CriticalFlaw.Source, StressedVolume.Source, OxygenAssumptions.Source],
        [
            .. fraction.Notes,
            string.Create(CultureInfo.InvariantCulture, $"Critical oxide {critical * 1e6:0} µm across, {(a.Place == FlawPlace.Interior ? "inside" : "at the surface")}, at {a.ToughnessPaSqrtM / 1e6:0} MPa√m and {a.StressPa / 1e6:0} MPa; {volume * 1e9:0.0} mm³ see at least {a.ShareOfHighestStress:P0} of the stress."),
            .. chances.Notes,
            "The chance rests on the tail of an assumed size distribution: compare heats by it, do not predict with it. Slag pieces are not in it.",
        ]);
    }
}

/// <summary>Assessment of a heat's oxygen.</summary>
/// <param name="OxygenPpm">Total oxygen, ppm by mass.</param>
/// <param name="Fraction">Oxide volume.</param>
/// <param name="NumberPerM3">Oxides in a cubic metre.</param>
/// <param name="CriticalDiameterM">Diameter of the critical oxide, m.</param>
/// <param name="StressedVolumeM3">Stressed volume of a coupon, m³.</param>
/// <param name="Chances">Chances of flaw-governed coupons.</param>
/// <param name="Assumptions">What was assumed.</param>
/// <param name="Sources">Where the steps come from.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record OxygenAssessmentResult(
    double OxygenPpm, OxideFractionResult Fraction, double NumberPerM3, double CriticalDiameterM, double StressedVolumeM3, FlawChances Chances, OxygenAssumptions Assumptions,
    IReadOnlyList<Source> Sources, IReadOnlyList<string> Notes)
{
    /// <summary>Oxides of at least a diameter in a cubic metre, by the assumed population.</summary>
    /// <param name="diameterM">Diameter, m.</param>
    public double NumberAbovePerM3(double diameterM) => new OxidePopulation(Fraction.VolumePercent / 100, Assumptions.MedianDiameterM, Assumptions.GeometricSd).NumberAbovePerM3(diameterM);
}
