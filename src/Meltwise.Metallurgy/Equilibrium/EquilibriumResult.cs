using System.Globalization;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The equilibrium of a steel at a temperature, with its certificate, its warnings and the sources of every number.</summary>
/// <param name="Steel">Overall composition as given.</param>
/// <param name="TemperatureK">Temperature, K.</param>
/// <param name="Phases">Phases present, largest first.</param>
/// <param name="GibbsEnergyJPerMol">Gibbs energy per mole of atoms, J; reference state as the parameter set.</param>
/// <param name="ChemicalPotentialsJPerMol">Chemical potential of each modelled element, J/mol.</param>
/// <param name="Certificate">Proof that this is the minimum.</param>
/// <param name="Warnings">What a reader must know before using the numbers.</param>
/// <param name="Sources">Every parameter used, with its citation.</param>
public sealed record EquilibriumResult(
    SteelComposition Steel,
    double TemperatureK,
    IReadOnlyList<EquilibriumPhase> Phases,
    double GibbsEnergyJPerMol,
    ElementAmounts ChemicalPotentialsJPerMol,
    EquilibriumCertificate Certificate,
    IReadOnlyList<EquilibriumWarning> Warnings,
    IReadOnlyList<ParameterSource> Sources)
{
    /// <summary>How far the numbers of the set may be from a measured steel.</summary>
    public ModelErrorBars ErrorBars { get; } = ModelErrorBars.ToolSteelAustenite;

    /// <summary>How the numbers were found.</summary>
    public string Method { get; } = "Gibbs-energy minimum, compound energy formalism, metastable carbide equilibria, parameter set " + ParameterSet.ToolSteel.Id;

    /// <summary>Temperature, °C.</summary>
    public double TemperatureC => TemperatureK - 273.15;

    /// <summary>The austenite, or null when there is none.</summary>
    public EquilibriumPhase? Austenite => Find(PhaseNames.Austenite);

    /// <summary>The ferrite, or null when there is none.</summary>
    public EquilibriumPhase? Ferrite => Find(PhaseNames.Ferrite);

    /// <summary>Volume fraction of all carbides, 0 to 1.</summary>
    public double CarbideVolumeFraction => Phases.Where(p => PhaseNames.IsCarbide(p.Name)).Sum(p => p.VolumeFraction);

    /// <summary>Mole fraction of atoms in a phase, over all its instances; 0 when absent.</summary>
    public double MoleFraction(string phase) => Phases.Where(p => p.Name == phase).Sum(p => p.MoleFraction);

    /// <summary>Volume fraction of a phase, over all its instances; 0 when absent.</summary>
    public double VolumeFraction(string phase) => Phases.Where(p => p.Name == phase).Sum(p => p.VolumeFraction);

    /// <summary>The first (largest) phase of a name, or null.</summary>
    public EquilibriumPhase? Find(string phase)
    {
        foreach (EquilibriumPhase p in Phases)
            if (p.Name == phase) return p;
        return null;
    }

    /// <summary>The result as a person would read it.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Steel} at {TemperatureC:0.#} °C: {string.Join("; ", Phases.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Name} {100 * p.VolumeFraction:0.0} vol%")))}");
}

/// <summary>One phase of an equilibrium.</summary>
/// <param name="Name">One of <see cref="PhaseNames"/>.</param>
/// <param name="MoleFraction">Share of the atoms, 0 to 1.</param>
/// <param name="MassFraction">Share of the mass, 0 to 1.</param>
/// <param name="VolumeFraction">Share of the volume at room temperature with the austenite kept as austenite, 0 to 1.</param>
/// <param name="VolumeFractionMartensitic">The same with the austenite turned to martensite: the one to compare with a micrograph of hardened steel.</param>
/// <param name="Composition">Mass percent of each modelled element.</param>
/// <param name="SiteFractions">Occupation of the sublattices of the model.</param>
public sealed record EquilibriumPhase(
    string Name,
    double MoleFraction,
    double MassFraction,
    double VolumeFraction,
    double VolumeFractionMartensitic,
    ElementAmounts Composition,
    IReadOnlyList<SiteFraction> SiteFractions)
{
    internal int ModelIndex { get; init; }

    internal double FormulaUnits { get; init; }
}

/// <summary>Occupation of a sublattice.</summary>
/// <param name="Sublattice">Number of the sublattice, from 1.</param>
/// <param name="Constituent">Element symbol, or Va for the vacancy.</param>
/// <param name="Fraction">Share of the sites, 0 to 1.</param>
public readonly record struct SiteFraction(int Sublattice, string Constituent, double Fraction);

/// <summary>Proof that a result is the minimum: what was looked for and how little was found.</summary>
/// <param name="DrivingForceMaxJPerMol">Largest driving force found for any phase at any composition, J per mole of atoms; at most <see cref="DrivingForceLimitJPerMol"/>.</param>
/// <param name="MassBalanceMax">Largest error of an element's balance, mole fraction.</param>
/// <param name="PotentialMismatchMaxJPerMol">Largest difference of a chemical potential between the phases, J/mol.</param>
/// <param name="Points">Points of the independent sample that were looked at, besides the descents from the stated starts.</param>
public sealed record EquilibriumCertificate(double DrivingForceMaxJPerMol, double MassBalanceMax, double PotentialMismatchMaxJPerMol, int Points)
{
    /// <summary>A result with a larger driving force left is refused, J per mole of atoms.</summary>
    public const double DrivingForceLimitJPerMol = 1e-4;

    /// <summary>A result with a larger error of a balance is refused, mole fraction.</summary>
    public const double MassBalanceLimit = 1e-11;

    /// <summary>A result with a larger difference of a potential is refused, J/mol.</summary>
    public const double PotentialMismatchLimitJPerMol = 1e-4;

    /// <summary>True when all three are within their limits.</summary>
    public bool IsValid => DrivingForceMaxJPerMol <= DrivingForceLimitJPerMol && MassBalanceMax <= MassBalanceLimit
        && PotentialMismatchMaxJPerMol <= PotentialMismatchLimitJPerMol;
}
