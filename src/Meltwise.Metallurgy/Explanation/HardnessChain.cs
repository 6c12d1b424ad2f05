using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Tempering;
using Meltwise.Metallurgy.Transformation;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>The chain from a steel at its hardening temperature to hardness: dissolved carbon, martensite start, retained austenite, mixture.</summary>
/// <remarks>
/// <para><b>Method.</b> Soak (<see cref="ISoak"/>), <see cref="MartensiteStart"/> on the austenite, <see cref="KoistinenMarburger"/> at the coldest temperature,
/// <see cref="QuenchedHardness"/>, and what the tempers add (<see cref="TemperShift"/>). After high tempers retained austenite is taken as turned.</para>
/// <para><b>Errors.</b> <see cref="ChainErrors"/> are the models' errors. Two heats of one load share them, so both are computed with the same ones.</para>
/// <para><b>Limits.</b> NaN hardness where a curve ends.</para>
/// </remarks>
public sealed class HardnessChain
{
    private readonly double _coldestC, _shiftHrc;
    private readonly bool _austeniteTurns;

    /// <summary>A chain for a treatment, with the loss of low tempers; before secondary hardening after higher ones.</summary>
    public HardnessChain(HardeningTreatment treatment) : this(treatment, -(TemperedHardness.LossHrc(treatment?.Tempers ?? []) ?? 0))
    {
    }

    /// <summary>A chain for a treatment.</summary>
    /// <param name="treatment">Hardening, cooling and tempers.</param>
    /// <param name="shiftHrc">What the tempers add to hardness before tempering, HRC.</param>
    public HardnessChain(HardeningTreatment treatment, double shiftHrc)
    {
        ArgumentNullException.ThrowIfNull(treatment);
        if (treatment.TemperaturesReachedC.Count == 0)
            throw new ArgumentException("The treatment has no cooling temperature. Give the temperature the coupons were quenched to, such as 20 °C.", nameof(treatment));
        _coldestC = treatment.ColdestC;
        _shiftHrc = shiftHrc;
        _austeniteTurns = TemperedHardness.Region(treatment.Tempers) == TemperRegion.High;
    }

    /// <summary>Pushes one soaked state through the chain. Allocates nothing.</summary>
    public ChainState Of(SoakedState soaked, in ChainErrors errors)
    {
        AlloyContent austenite = soaked.Austenite;
        austenite.C += errors.DissolvedCarbon;
        austenite.Cr += errors.DissolvedChromium;
        double carbide = Math.Max(0, soaked.Carbides.Total + errors.CarbideVolumeFraction);

        double ms = (errors.MartensiteStartFormula is { } i ? MartensiteStartFormulas.ForToolSteel[i].Celsius(austenite) : MartensiteStart.CentralC(austenite)) + errors.MartensiteStartC;
        double ofMatrix = _austeniteTurns ? 0 : KoistinenMarburger.AusteniteFraction(ms, _coldestC, errors.MartensiteRatePerC);
        double hrc = QuenchedHardness.HrcOrNaN(austenite.C, ofMatrix, carbide, QuenchedHardness.AusteniteHv, errors.CarbideHrcPerVolumePercent)
            + errors.MartensiteCurveTilt * (austenite.C - ChainErrors.TiltAboutCarbon) + _shiftHrc;
        return new(austenite, soaked.Carbides, ms, ofMatrix * (1 - carbide), hrc);
    }
}

/// <summary>One set of errors of the models, common to two heats of one load.</summary>
/// <param name="DissolvedCarbon">Of the parameter set, mass percent.</param>
/// <param name="DissolvedChromium">Of the parameter set, mass percent.</param>
/// <param name="CarbideVolumeFraction">Of the parameter set.</param>
/// <param name="MartensiteStartFormula">Which of the four tool-steel formulas; null for their mean.</param>
/// <param name="MartensiteStartC">Offset of the martensite start, °C.</param>
/// <param name="MartensiteRatePerC">Rate of the austenite equation, per °C.</param>
/// <param name="CarbideHrcPerVolumePercent">Hardness that carbide adds.</param>
/// <param name="MartensiteCurveTilt">Error of the slope of the martensite curve, HRC per mass percent carbon.</param>
public readonly record struct ChainErrors(
    double DissolvedCarbon, double DissolvedChromium, double CarbideVolumeFraction, int? MartensiteStartFormula, double MartensiteStartC,
    double MartensiteRatePerC, double CarbideHrcPerVolumePercent, double MartensiteCurveTilt)
{
    /// <summary>Carbon at which the tilt of the curve changes nothing, mass percent.</summary>
    public const double TiltAboutCarbon = 0.5;

    /// <summary>The chain at its central values.</summary>
    public static ChainErrors None { get; } = new(0, 0, 0, null, 0, KoistinenMarburger.RatePerC, QuenchedHardness.CarbideHrcPerVolumePercent, 0);
}

/// <summary>What the chain says of one steel.</summary>
/// <param name="Austenite">Mass percent in the austenite.</param>
/// <param name="Carbides">Undissolved carbide, volume fraction by kind.</param>
/// <param name="MartensiteStartC">Martensite start, °C.</param>
/// <param name="RetainedAustenite">Volume fraction of the whole.</param>
/// <param name="HardnessHrc">Rockwell C; NaN where a curve ends.</param>
public readonly record struct ChainState(
    AlloyContent Austenite, CarbideVolumes Carbides, double MartensiteStartC, double RetainedAustenite, double HardnessHrc);
