namespace Meltwise.Metallurgy.Hardness;

/// <summary>Hardness scales of the trade.</summary>
public enum HardnessScale
{
    /// <summary>Rockwell C.</summary>
    HRC,
    /// <summary>Vickers.</summary>
    HV,
    /// <summary>Brinell, tungsten-carbide ball, 3000 kgf (29.42 kN).</summary>
    HBW,
    /// <summary>Rockwell A.</summary>
    HRA,
    /// <summary>Rockwell B.</summary>
    HRB,
}
