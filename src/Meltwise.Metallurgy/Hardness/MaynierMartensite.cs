using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Hardness;

/// <summary>Vickers hardness of martensite from composition and cooling rate, by Maynier, Dollet and Bastien: a second opinion beside the carbon curve.</summary>
/// <remarks>
/// <para><b>Formula.</b> HV = 127 + 949 C + 27 Si + 11 Mn + 8 Ni + 16 Cr + 21 log10(V): mass percent in the austenite, V the cooling rate at
/// 700 °C in °C per hour.</para>
/// <para><b>Range.</b> Below 0.5 % C, low-alloy steels.</para>
/// <para><b>Outside.</b> Refused above 0.5 % C.</para>
/// <para><b>Source.</b> Maynier, Dollet and Bastien (1978), read in closely similar form.</para>
/// </remarks>
public static class MaynierMartensite
{
    /// <summary>The paper.</summary>
    public static Source Source { get; } = new("Maynier, Dollet and Bastien, in Hardenability Concepts with Applications to Steel (1978)", SourceStatus.FromMemory);

    /// <summary>Highest carbon the formula covers, mass percent.</summary>
    public const double HighestCarbon = 0.5;

    /// <summary>Vickers hardness of the martensite.</summary>
    /// <param name="austenite">Composition of the austenite, mass percent.</param>
    /// <param name="coolingRateCPerHour">Cooling rate at 700 °C, °C per hour, above 0.</param>
    /// <exception cref="OutsideModelRangeException">Carbon above 0.5 % or a rate that is not above zero.</exception>
    public static double Vickers(AlloyContent austenite, double coolingRateCPerHour)
    {
        if (!(austenite.C is >= 0 and <= HighestCarbon))
            throw new OutsideModelRangeException("Maynier martensite hardness", "dissolved carbon", austenite.C, 0, HighestCarbon, "wt%");
        if (!(coolingRateCPerHour > 0))
            throw new OutsideModelRangeException("Maynier martensite hardness", "cooling rate", coolingRateCPerHour, 1, 1e7, "°C/h");
        return 127 + 949 * austenite.C + 27 * austenite.Si + 11 * austenite.Mn + 8 * austenite.Ni + 16 * austenite.Cr + 21 * Math.Log10(coolingRateCPerHour);
    }
}
