using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>By how much the mean found on a reference may differ from its certified value.</summary>
/// <remarks>
/// <para><b>Impact energy.</b> 1.4 J (1.0 ft·lbf) or 5 % of the certified energy, whichever is greater: ASTM E23, annex A2 (from memory).</para>
/// <para><b>Rockwell C.</b> ±1.0 HRC on blocks of 20 to 30 and of 35 to 55 HRC, ±0.5 HRC on blocks of 60 to 65 HRC: ASTM E18, table A1.3 (from memory).</para>
/// <para><b>Outside.</b> No tolerance is given for other properties, nor for blocks between these levels. The standard in force and the certificate of the reference stand above these figures;
/// whether a verification passed is what the person recorded, never what is computed here.</para>
/// </remarks>
public static class VerificationTolerance
{
    private const double EnergyJ = 1.4;
    private const double EnergyFootPounds = 1.0;
    private const double EnergyShare = 0.05;

    /// <summary>The tolerance in the unit, or null where none is given.</summary>
    /// <param name="property">Name of the property the instrument reads.</param>
    /// <param name="unit">Unit of its scale.</param>
    /// <param name="certified">Certified value of the reference, in that unit.</param>
    public static double? Of(string property, string unit, double certified) => (property, unit) switch
    {
        _ when property == PropertyTable.ImpactEnergy.Name && unit == "J" => Math.Max(EnergyJ, EnergyShare * certified),
        _ when property == PropertyTable.ImpactEnergy.Name && unit == "ft·lbf" => Math.Max(EnergyFootPounds, EnergyShare * certified),
        _ when property == PropertyTable.Hardness.Name => certified switch { >= 20 and <= 30 or >= 35 and <= 55 => 1.0, >= 60 and <= 65 => 0.5, _ => null },
        _ => null,
    };

    /// <summary>Where the tolerance is from, or null where none is given.</summary>
    public static string? SourceOf(string property) =>
        property == PropertyTable.ImpactEnergy.Name ? "Tolerance: 1.4 J (1.0 ft·lbf) or 5 %, whichever is greater; ASTM E23, annex A2 (from memory)."
        : property == PropertyTable.Hardness.Name ? "Tolerance: 1.0 HRC on blocks of 20 to 30 and 35 to 55 HRC, 0.5 HRC on blocks of 60 to 65 HRC; ASTM E18, table A1.3 (from memory)."
        : null;
}
