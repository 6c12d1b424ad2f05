using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>How much of a bend coupon is under nearly the highest stress, and how strength falls with that volume.</summary>
/// <remarks>
/// <para><b>Formula.</b> Three-point bending of a rectangular bar, elastic: stress falls linearly with depth and towards the supports. Volume with at least
/// the share g of the highest stress: V/2 (1 - g + g ln g), V = span × width × height. Effective volume at Weibull modulus m: V / (2 (m+1)²).
/// Strength ratio of two volumes: (V2/V1)^(-1/m).</para>
/// <para><b>Assumptions.</b> Elastic, static, unnotched; a notched or struck coupon is stressed otherwise.</para>
/// <para><b>Source.</b> Geometry; Weibull (1939); effective volume as in ASTM C1683, from memory.</para>
/// </remarks>
public static class StressedVolume
{
    /// <summary>Source of the effective volume.</summary>
    public static Source Source { get; } = new("Weibull (1939); effective volume of three-point bending as in ASTM C1683", SourceStatus.FromMemory);

    /// <summary>Volume stressed to at least <paramref name="shareOfHighest"/> of the highest tension, m³.</summary>
    /// <param name="spanM">Distance of the supports, m.</param>
    /// <param name="widthM">Width, m.</param>
    /// <param name="heightM">Height in the direction of the load, m.</param>
    /// <param name="shareOfHighest">Share, above 0 and at most 1.</param>
    /// <exception cref="OutsideModelRangeException">A length not above zero, or a share outside 0 to 1.</exception>
    public static double AboveShareM3(double spanM, double widthM, double heightM, double shareOfHighest)
    {
        if (!(shareOfHighest is > 0 and <= 1)) throw new OutsideModelRangeException("Stressed volume", "share of the highest stress", shareOfHighest, 0, 1, "");
        return Whole(spanM, widthM, heightM) / 2 * (1 - shareOfHighest + shareOfHighest * Math.Log(shareOfHighest));
    }

    /// <summary>Effective volume at a Weibull modulus, m³.</summary>
    /// <exception cref="OutsideModelRangeException">A length not above zero, or a modulus below 1.</exception>
    public static double EffectiveM3(double spanM, double widthM, double heightM, double weibullModulus)
    {
        if (!(weibullModulus is >= 1 and <= 100)) throw new OutsideModelRangeException("Stressed volume", "Weibull modulus", weibullModulus, 1, 100, "");
        return Whole(spanM, widthM, heightM) / (2 * (weibullModulus + 1) * (weibullModulus + 1));
    }

    /// <summary>Strength of a larger or smaller volume relative to the first.</summary>
    /// <param name="volumeRatio">Second volume (or stressed area) over the first.</param>
    /// <param name="weibullModulus">Weibull modulus.</param>
    public static double StrengthRatio(double volumeRatio, double weibullModulus) => Math.Pow(volumeRatio, -1 / weibullModulus);

    private static double Whole(double spanM, double widthM, double heightM)
    {
        foreach (double length in (double[])[spanM, widthM, heightM])
            if (!(length is > 0 and < 1)) throw new OutsideModelRangeException("Stressed volume", "length", length * 1000, 0, 1000, "mm");
        return spanM * widthM * heightM;
    }
}
