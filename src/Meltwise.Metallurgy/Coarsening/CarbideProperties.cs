using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>Volume and interfacial energy of each carbide.</summary>
/// <remarks>
/// <para><b>Method.</b> Molar volume: formula-unit volumes of the pure-metal carbides mixed linearly over the metal fractions, divided by the metal
/// atoms of the formula; a metal without a value of its own takes that of iron. Interfacial energy: one value with its range.</para>
/// <para><b>Range.</b> Volumes at room temperature. Interfacial energies are known to a factor of about two.</para>
/// <para><b>Source.</b> Lattice parameters and modelling literature, from memory; in the shipped table.</para>
/// </remarks>
public static class CarbideProperties
{
    private static readonly CarbideFile s_file = ShippedTable.Read<CarbideFile>("Coarsening.carbides.json");

    /// <summary>Where the volumes come from.</summary>
    public static Source VolumeSource { get; } = new(s_file.VolumeSource, s_file.VolumeStatus);

    /// <summary>Where the interfacial energies come from.</summary>
    public static Source EnergySource { get; } = new(s_file.EnergySource, s_file.EnergyStatus);

    /// <summary>Interfacial energy against austenite, J/m², with its range.</summary>
    public static InterfacialEnergy Interface(CarbideKind carbide)
    {
        CarbideRow row = Row(carbide);
        return new(row.InterfacialEnergyJM2, row.LowestJM2, row.HighestJM2, EnergySource);
    }

    /// <summary>Molar volume for one mole of metal atoms, m³/mol.</summary>
    /// <param name="carbide">Kind of carbide.</param>
    /// <param name="metals">Metal fractions of the carbide.</param>
    public static double MolarVolumeM3(CarbideKind carbide, MetalFractions metals)
    {
        ArgumentNullException.ThrowIfNull(metals);
        CarbideRow row = Row(carbide);
        double iron = row.VolumeCm3Mol["Fe"], volume = 0;
        foreach ((string symbol, double fraction) in metals.BySymbol) volume += fraction * row.VolumeCm3Mol.GetValueOrDefault(symbol, iron);
        return volume * 1e-6 / row.MetalAtoms;
    }

    private static CarbideRow Row(CarbideKind carbide) => s_file.Rows.Single(r => r.Carbide == carbide);

    private sealed record CarbideFile(string VolumeSource, SourceStatus VolumeStatus, string EnergySource, SourceStatus EnergyStatus, List<CarbideRow> Rows);

    private sealed record CarbideRow(CarbideKind Carbide, int MetalAtoms, Dictionary<string, double> VolumeCm3Mol, double InterfacialEnergyJM2, double LowestJM2, double HighestJM2);
}

/// <summary>An interfacial energy, J/m².</summary>
/// <param name="JoulePerM2">Value used.</param>
/// <param name="Lowest">Lowest plausible.</param>
/// <param name="Highest">Highest plausible.</param>
/// <param name="Source">Where from.</param>
public readonly record struct InterfacialEnergy(double JoulePerM2, double Lowest, double Highest, Source Source);
