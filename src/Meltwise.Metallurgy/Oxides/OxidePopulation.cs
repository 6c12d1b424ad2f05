using MathNet.Numerics.Distributions;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>How many oxides above a size a volume of steel holds, given the oxide fraction and a size distribution.</summary>
/// <remarks>
/// <para><b>Formula.</b> Diameters log-normal by number with median m and geometric standard deviation g (s = ln g): number per volume
/// N = f / (π/6 m³ exp(9 s²/2)); above d: N (1 - Φ(ln(d/m)/s)). With g = 1 all oxides have one size.</para>
/// <para><b>Assumptions.</b> Spheres, spread at random; one population. Slag or refractory pieces of 50 µm and more are another population, which adds
/// almost nothing to the oxygen: a log-normal tail says nothing of them.</para>
/// <para><b>Range.</b> Median 0.1 to 100 µm, g from 1 to 5.</para>
/// <para><b>Outside.</b> Refused.</para>
/// <para><b>Source.</b> Moments of the log-normal distribution (Aitchison and Brown, 1957); geometry.</para>
/// </remarks>
public sealed class OxidePopulation
{
    private readonly double _medianM, _logSd;

    /// <summary>A population.</summary>
    /// <param name="volumeFraction">Oxide volume fraction, 0 to 0.05.</param>
    /// <param name="medianDiameterM">Median diameter by number, m.</param>
    /// <param name="geometricSd">Geometric standard deviation, 1 or more.</param>
    /// <exception cref="OutsideModelRangeException">A value outside the range.</exception>
    public OxidePopulation(double volumeFraction, double medianDiameterM, double geometricSd)
    {
        if (!(volumeFraction is >= 0 and <= 0.05)) throw new OutsideModelRangeException("Oxide population", "volume fraction", volumeFraction, 0, 0.05, "");
        if (!(medianDiameterM is >= 1e-7 and <= 1e-4)) throw new OutsideModelRangeException("Oxide population", "median diameter", medianDiameterM * 1e6, 0.1, 100, "µm");
        if (!(geometricSd is >= 1 and <= 5)) throw new OutsideModelRangeException("Oxide population", "geometric standard deviation", geometricSd, 1, 5, "");
        _medianM = medianDiameterM;
        _logSd = Math.Log(geometricSd);
        NumberPerM3 = volumeFraction / (Math.PI / 6 * medianDiameterM * medianDiameterM * medianDiameterM * Math.Exp(4.5 * _logSd * _logSd));
    }

    /// <summary>Oxides in a cubic metre.</summary>
    public double NumberPerM3 { get; }

    /// <summary>Oxides of at least <paramref name="diameterM"/> in a cubic metre.</summary>
    public double NumberAbovePerM3(double diameterM)
    {
        if (_logSd == 0) return diameterM <= _medianM ? NumberPerM3 : 0;
        return NumberPerM3 * Normal.CDF(0, 1, -Math.Log(diameterM / _medianM) / _logSd);
    }

    /// <summary>Expected number of at least <paramref name="diameterM"/> in <paramref name="volumeM3"/>.</summary>
    public double ExpectedNumber(double diameterM, double volumeM3) => volumeM3 >= 0
        ? NumberAbovePerM3(diameterM) * volumeM3
        : throw new OutsideModelRangeException("Oxide population", "volume", volumeM3, 0, 1, "m³");
}
