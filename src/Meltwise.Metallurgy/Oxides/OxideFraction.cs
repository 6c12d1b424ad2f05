using System.Globalization;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>An oxide that oxygen in steel may be bound in.</summary>
/// <param name="Name">Formula.</param>
/// <param name="DensityGCm3">Density, g/cm³.</param>
/// <param name="OxygenMassFraction">Mass fraction of oxygen.</param>
public sealed record Oxide(string Name, double DensityGCm3, double OxygenMassFraction);

/// <summary>Volume of oxide in a steel from its total oxygen.</summary>
/// <remarks>
/// <para><b>Formula.</b> volume percent = (ppm × 1e-4 / w) × (ρ(steel) / ρ(oxide)), w the oxygen mass fraction of the oxide, ρ(steel) 7.75 g/cm³.</para>
/// <para><b>Assumptions.</b> All oxygen in one oxide; none dissolved (below about 1 ppm in solid tool steel).</para>
/// <para><b>Range.</b> 0.05 ± 0.01 volume percent for each 100 ppm covers the usual oxides. Above 300 ppm total oxygen is outside the scope of the
/// fusion method's standard, and a note says so.</para>
/// <para><b>Source.</b> Densities from handbooks, from memory.</para>
/// </remarks>
public static class OxideFraction
{
    /// <summary>Density of tool steel used, g/cm³.</summary>
    public const double SteelDensityGCm3 = 7.75;

    private const double HighestPpm = 5000, MethodScopePpm = 300;
    private static readonly OxideFile s_file = ShippedTable.Read<OxideFile>("Oxides.oxides.json");

    /// <summary>The oxides of the table.</summary>
    public static IReadOnlyList<Oxide> All { get; } = [.. s_file.Rows.Select(r => new Oxide(r.Oxide, r.DensityGCm3, r.OxygenMassFraction))];

    /// <summary>Where densities come from.</summary>
    public static Source Source { get; } = new(s_file.Source, s_file.Status);

    /// <summary>The oxide of a formula.</summary>
    /// <exception cref="ArgumentException">Not in the table.</exception>
    public static Oxide Named(string formula) => All.FirstOrDefault(o => o.Name == formula)
        ?? throw new ArgumentException($"Oxide {formula} is not in the table. It holds {string.Join(", ", All.Select(o => o.Name))}.", nameof(formula));

    /// <summary>Volume of oxide.</summary>
    /// <param name="oxygenPpm">Total oxygen, ppm by mass.</param>
    /// <param name="oxide">The oxide, after the deoxidation practice.</param>
    /// <exception cref="OutsideModelRangeException">Oxygen below 0 or above 5000 ppm.</exception>
    public static OxideFractionResult Of(double oxygenPpm, Oxide oxide)
    {
        ArgumentNullException.ThrowIfNull(oxide);
        double percent = VolumePercent(oxygenPpm, oxide);
        double[] all = [.. All.Select(o => VolumePercent(oxygenPpm, o))];
        List<string> notes =
        [
            string.Create(CultureInfo.InvariantCulture, $"All oxygen taken as {oxide.Name}; over the oxides of the table {all.Min():0.0000} to {all.Max():0.0000} vol%."),
            "Total oxygen is a mean. Fracture starts at the largest oxide, which ppm does not show.",
        ];
        if (oxygenPpm > MethodScopePpm)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"{oxygenPpm:0} ppm is above the {MethodScopePpm:0} ppm scope of the fusion method's standard (E1019): the laboratory must have validated it."));
        return new(percent, all.Min(), all.Max(), oxide, Source, notes);
    }

    private static double VolumePercent(double oxygenPpm, Oxide oxide) => oxygenPpm is >= 0 and <= HighestPpm
        ? oxygenPpm * 1e-4 / oxide.OxygenMassFraction * (SteelDensityGCm3 / oxide.DensityGCm3)
        : throw new OutsideModelRangeException("Oxide fraction", "total oxygen", oxygenPpm, 0, HighestPpm, "ppm");

    private sealed record OxideFile(string Source, SourceStatus Status, List<OxideRow> Rows);

    private sealed record OxideRow(string Oxide, double DensityGCm3, double OxygenMassFraction);
}

/// <summary>Volume of oxide in a steel.</summary>
/// <param name="VolumePercent">Volume percent with the named oxide.</param>
/// <param name="Lowest">With the densest oxygen carrier of the table.</param>
/// <param name="Highest">With the least dense.</param>
/// <param name="Oxide">The oxide taken.</param>
/// <param name="Source">Where densities come from.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record OxideFractionResult(double VolumePercent, double Lowest, double Highest, Oxide Oxide, Source Source, IReadOnlyList<string> Notes);
