using System.Globalization;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Casework.Planning;

/// <summary>Flaws expected in a coupon, from total oxygen or from a flaw density, under stated assumptions.</summary>
/// <param name="Expected">Flaws above the critical size expected in the stressed volume of one coupon.</param>
/// <param name="From">Where it comes from, in words.</param>
public sealed record FlawReckoning(double Expected, string From)
{
    /// <summary>From total oxygen: oxide volume, size distribution, critical size and stressed volume as assumed.</summary>
    /// <exception cref="PlanFaultException">Oxygen outside the range of the models.</exception>
    public static FlawReckoning OfOxygen(double oxygenPpm)
    {
        OxygenAssessmentResult result;
        try
        {
            result = OxygenAssessment.Of(oxygenPpm, 1);
        }
        catch (OutsideModelRangeException outside)
        {
            throw new PlanFaultException(outside.Message);
        }
        return new(result.Chances.ExpectedFlaws, string.Create(CultureInfo.InvariantCulture,
            $"{oxygenPpm:0.#} ppm of oxygen: {result.Chances.ExpectedFlaws:G2} oxides of {result.CriticalDiameterM * 1e6:0} µm and more in the {result.StressedVolumeM3 * 1e9:0} mm³ under stress. It rests on the tail of an assumed size distribution: compare heats by it, do not predict with it."));
    }

    /// <summary>From a density of flaws above the critical size, per cubic centimetre, in the stressed volume of the usual bend coupon.</summary>
    public static FlawReckoning OfDensity(double flawsPerCm3)
    {
        OxygenAssumptions a = new();
        double volume = StressedVolume.AboveShareM3(a.SpanM, a.WidthM, a.HeightM, a.ShareOfHighestStress);
        return new(flawsPerCm3 * 1e6 * volume, string.Create(CultureInfo.InvariantCulture, $"{flawsPerCm3:G3} flaws above the critical size in a cm³, {volume * 1e9:0} mm³ of a coupon under stress."));
    }
}
