using System.Globalization;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Hardness;

/// <summary>Hardness after the quench: martensite, retained austenite and undissolved carbide mixed to one Rockwell C value.</summary>
/// <remarks>
/// <para><b>Formula.</b> HV(matrix) = (1 - f) HV(martensite) + f HV(austenite), with f the austenite share of the matrix; converted to HRC by table;
/// plus c times the undissolved carbide in volume percent.</para>
/// <para><b>Assumptions.</b> Linear mixing in Vickers; austenite of 250 HV (200 to 300); carbide adds 0.13 HRC per volume percent
/// (handbooks: 1 to 3 HRC at 10 to 20 %), a coefficient to be fitted by grade.</para>
/// <para><b>Range.</b> Dissolved carbon 0.1 to 1.0 %; results between 20 and 68 HRC before the carbide is added.</para>
/// <para><b>Outside.</b> NaN from <see cref="HrcOrNaN"/>, a refusal from <see cref="Of"/>.</para>
/// <para><b>Source.</b> Linear mixing: common practice. Curve and tables: <see cref="MartensiteHardness"/>, <see cref="HardnessConversion"/>.</para>
/// </remarks>
public static class QuenchedHardness
{
    /// <summary>Vickers hardness of retained austenite, middle of the usual 200 to 300.</summary>
    public const double AusteniteHv = 250;

    /// <summary>HRC that one volume percent of undissolved carbide adds, where no grade has been fitted.</summary>
    public const double CarbideHrcPerVolumePercent = 0.13;

    /// <summary>Standard uncertainty of <see cref="CarbideHrcPerVolumePercent"/>: the handbook range taken as two standard deviations.</summary>
    public const double CarbideHrcPerVolumePercentSd = 0.035;

    /// <summary>Sources of the mixture's constants.</summary>
    public static IReadOnlyList<Source> Sources { get; } =
    [
        new("Linear mixing of Vickers hardness; austenite about 250 HV", SourceStatus.CommonPractice),
        new("Undissolved carbide adds 1 to 3 HRC at 10 to 20 vol%, handbook ranges", SourceStatus.FromMemory),
    ];

    /// <summary>Rockwell C after the quench, NaN where the curve or the table ends. Allocates nothing.</summary>
    /// <param name="dissolvedCarbon">Mass percent in the austenite.</param>
    /// <param name="austeniteOfMatrix">Retained austenite, share of the matrix, 0 to 1.</param>
    /// <param name="carbideVolumeFraction">Undissolved carbide, 0 to 1.</param>
    /// <param name="austeniteHv">Vickers hardness of the austenite.</param>
    /// <param name="carbideHrcPerVolumePercent">HRC for one volume percent of carbide.</param>
    public static double HrcOrNaN(double dissolvedCarbon, double austeniteOfMatrix, double carbideVolumeFraction,
        double austeniteHv = AusteniteHv, double carbideHrcPerVolumePercent = CarbideHrcPerVolumePercent)
    {
        double martensiteHv = HardnessConversion.VickersOfHrc(MartensiteHardness.HrcOrNaN(dissolvedCarbon));
        double matrixHv = (1 - austeniteOfMatrix) * martensiteHv + austeniteOfMatrix * austeniteHv;
        return HardnessConversion.HrcOfVickers(matrixHv) + carbideHrcPerVolumePercent * 100 * carbideVolumeFraction;
    }

    /// <summary>Hardness after the quench with its parts.</summary>
    /// <exception cref="OutsideModelRangeException">Dissolved carbon, or the mixture, lies outside the curves.</exception>
    public static QuenchedHardnessResult Of(double dissolvedCarbon, double austeniteOfMatrix, double carbideVolumeFraction,
        double carbideHrcPerVolumePercent = CarbideHrcPerVolumePercent)
    {
        double martensiteHrc = MartensiteHardness.Hrc(dissolvedCarbon);
        double martensiteHv = HardnessConversion.VickersOfHrc(martensiteHrc);
        double matrixHv = (1 - austeniteOfMatrix) * martensiteHv + austeniteOfMatrix * AusteniteHv;
        double matrixHrc = HardnessConversion.HrcOfVickers(matrixHv);
        if (double.IsNaN(matrixHrc))
            throw new OutsideModelRangeException("Hardness of the matrix", "Vickers hardness", matrixHv, 238, 940, "HV");
        double carbide = carbideHrcPerVolumePercent * 100 * carbideVolumeFraction;
        double half = MartensiteHardness.HalfWidthHrc(dissolvedCarbon) + HardnessConversion.HalfWidthHrc;
        return new(matrixHrc + carbide, half, martensiteHrc, matrixHrc, carbide,
            [.. MartensiteHardness.Sources, .. Sources, HardnessConversion.Source],
            [
                string.Create(CultureInfo.InvariantCulture, $"Computed, not measured: about ±{half:0.#} HRC before calibration on own heats."),
                "The hardness as quenched is absolute: read differences between like heats rather than the value itself.",
            ]);
    }
}

/// <summary>Hardness after the quench.</summary>
/// <param name="Hrc">Rockwell C of the whole.</param>
/// <param name="HalfWidthHrc">Half width of the models' own scatter.</param>
/// <param name="MartensiteHrc">Of the martensite alone.</param>
/// <param name="MatrixHrc">Of martensite with retained austenite.</param>
/// <param name="CarbideHrc">Added by undissolved carbide.</param>
/// <param name="Sources">Where curve, table and constants come from.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record QuenchedHardnessResult(
    double Hrc, double HalfWidthHrc, double MartensiteHrc, double MatrixHrc, double CarbideHrc, IReadOnlyList<Source> Sources, IReadOnlyList<string> Notes);
