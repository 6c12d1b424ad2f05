using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>From powder size to cooling rate, to the spacing of dendrite arms, to the size of the carbide that freezes between them.</summary>
/// <remarks>
/// <para><b>Formula.</b> Cooling rate of a droplet by convection at a fixed Nusselt number falls with the square of its size: 1.6e5 K/s (50 µm / d)². Arm
/// spacing λ = 50 µm (rate / (K/s))^(-1/3). Carbide: one particle in each cell of λ³ gives a diameter λ (6 f / π)^(1/3) at volume fraction f, an upper
/// estimate of the size as frozen.</para>
/// <para><b>Assumptions.</b> Nusselt number 5, gas at 0.05 W/(m K), droplet 1500 K above the gas, 5.6 MJ/(m³ K). Measured rates lie within
/// a factor of ten of it. The coarse tail of the powder sets the coarse tail of the carbide.</para>
/// <para><b>Range.</b> Gas-atomised powder of 10 to 1000 µm; rates of 0.1 to 1e7 K/s.</para>
/// <para><b>Outside.</b> Refused.</para>
/// <para><b>Source.</b> Arm-spacing law with exponent 1/3, textbooks, from memory; cooling rate and the one-particle cell are our own order-of-magnitude model.</para>
/// </remarks>
public static class PowderSolidification
{
    private const double RateAtFiftyMicrometreKS = 1.6e5;

    /// <summary>Sources.</summary>
    public static IReadOnlyList<Source> Sources { get; } =
    [
        new("Dendrite arm spacing of about 50 µm at 1 K/s falling with the cube root of the rate, textbooks on solidification of steel", SourceStatus.FromMemory),
        new("Droplet cooled by convection at Nusselt number 5; one carbide in each arm-spacing cell", SourceStatus.Assumption),
    ];

    /// <summary>Cooling rate of a droplet, K/s.</summary>
    /// <param name="powderDiameterM">Diameter of the powder particle, m.</param>
    /// <exception cref="OutsideModelRangeException">Diameter outside 10 to 1000 µm.</exception>
    public static double CoolingRateKS(double powderDiameterM)
    {
        double micrometre = powderDiameterM * 1e6;
        if (!(micrometre is >= 10 and <= 1000))
            throw new OutsideModelRangeException("Powder solidification", "powder diameter", micrometre, 10, 1000, "µm");
        return RateAtFiftyMicrometreKS * (50 / micrometre) * (50 / micrometre);
    }

    /// <summary>Spacing of dendrite arms, m.</summary>
    /// <exception cref="OutsideModelRangeException">Rate outside 0.1 to 1e7 K/s.</exception>
    public static double ArmSpacingM(double coolingRateKS) => coolingRateKS is >= 0.1 and <= 1e7
        ? 50e-6 / Math.Cbrt(coolingRateKS)
        : throw new OutsideModelRangeException("Dendrite arm spacing", "cooling rate", coolingRateKS, 0.1, 1e7, "K/s");

    /// <summary>Diameter of the carbide as frozen, m: an upper estimate.</summary>
    /// <param name="armSpacingM">Arm spacing, m.</param>
    /// <param name="carbideVolumeFraction">Volume fraction of the carbide, above 0 and up to 0.3.</param>
    /// <exception cref="OutsideModelRangeException">Volume fraction outside the range.</exception>
    public static double CarbideDiameterM(double armSpacingM, double carbideVolumeFraction) => carbideVolumeFraction is > 0 and <= 0.3
        ? armSpacingM * Math.Cbrt(6 * carbideVolumeFraction / Math.PI)
        : throw new OutsideModelRangeException("Carbide as frozen", "volume fraction", carbideVolumeFraction, 0, 0.3, "");
}
