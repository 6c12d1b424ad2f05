using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>Where a flaw sits.</summary>
public enum FlawPlace
{
    /// <summary>Inside the steel.</summary>
    Interior,
    /// <summary>Touching the surface.</summary>
    Surface,
}

/// <summary>Largest flaw that a toughness and a stress allow, by the square root of its area.</summary>
/// <remarks>
/// <para><b>Formula.</b> K = Y σ √(π √area), Y 0.5 inside and 0.65 at the surface; so √area = (K / (Y σ))² / π.</para>
/// <para><b>Assumptions.</b> Small flaw, linear elastic; area is the flaw's projection on the plane across the stress.</para>
/// <para><b>Range.</b> Toughness 5 to 60 MPa√m, stress 200 to 6000 MPa. Within about 15 % of numerical solutions for compact shapes.</para>
/// <para><b>Outside.</b> Refused.</para>
/// <para><b>Source.</b> Murakami and Endo, Eng. Fract. Mech. 17 (1983) 1; Murakami, Metal Fatigue: Effects of Small Defects and Nonmetallic Inclusions (2002); from memory.</para>
/// </remarks>
public static class CriticalFlaw
{
    /// <summary>The source.</summary>
    public static Source Source { get; } = new("Murakami, Metal Fatigue: Effects of Small Defects and Nonmetallic Inclusions (2002)", SourceStatus.FromMemory);

    /// <summary>Critical √area, m.</summary>
    /// <param name="toughnessPaSqrtM">Fracture toughness, Pa√m.</param>
    /// <param name="stressPa">Stress at the flaw, Pa.</param>
    /// <param name="place">Where the flaw sits.</param>
    /// <exception cref="OutsideModelRangeException">Toughness or stress outside the range.</exception>
    public static double SqrtAreaM(double toughnessPaSqrtM, double stressPa, FlawPlace place)
    {
        if (!(toughnessPaSqrtM is >= 5e6 and <= 60e6)) throw new OutsideModelRangeException("Critical flaw", "toughness", toughnessPaSqrtM / 1e6, 5, 60, "MPa√m");
        if (!(stressPa is >= 200e6 and <= 6000e6)) throw new OutsideModelRangeException("Critical flaw", "stress", stressPa / 1e6, 200, 6000, "MPa");
        double ratio = toughnessPaSqrtM / (ShapeFactor(place) * stressPa);
        return ratio * ratio / Math.PI;
    }

    /// <summary>Stress intensity at a flaw, Pa√m.</summary>
    public static double StressIntensityPaSqrtM(double sqrtAreaM, double stressPa, FlawPlace place) => ShapeFactor(place) * stressPa * Math.Sqrt(Math.PI * sqrtAreaM);

    /// <summary>Diameter of the sphere whose cross-section has this √area, m.</summary>
    public static double SphereDiameterM(double sqrtAreaM) => sqrtAreaM * 2 / Math.Sqrt(Math.PI);

    private static double ShapeFactor(FlawPlace place) => place == FlawPlace.Interior ? 0.5 : 0.65;
}
