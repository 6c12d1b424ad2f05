namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Derivatives of an equilibrium to temperature and to the content of each element, the phases staying the same.</summary>
/// <param name="At">The result they belong to.</param>
/// <param name="ByTemperature">Per kelvin.</param>
/// <param name="ByElement">Per mass percent of each element but iron; iron is the balance and gives way.</param>
public sealed record EquilibriumSensitivities(EquilibriumResult At, EquilibriumDerivative ByTemperature, IReadOnlyDictionary<string, EquilibriumDerivative> ByElement);

/// <summary>Derivative of an equilibrium to one variable.</summary>
/// <param name="Variable">"temperature" or an element symbol.</param>
/// <param name="Phases">In the order of the result's phases.</param>
/// <param name="ChemicalPotentialsJPerMol">J/mol per unit of the variable.</param>
public sealed record EquilibriumDerivative(string Variable, IReadOnlyList<PhaseDerivative> Phases, ElementAmounts ChemicalPotentialsJPerMol)
{
    /// <summary>The austenite's derivative, or null when there is none.</summary>
    public PhaseDerivative? Austenite => Phases.FirstOrDefault(p => p.Name == PhaseNames.Austenite);

    /// <summary>Change of the volume fraction of all carbides per unit of the variable.</summary>
    public double CarbideVolumeFraction => Phases.Where(p => PhaseNames.IsCarbide(p.Name)).Sum(p => p.VolumeFraction);
}

/// <summary>Derivative of one phase to one variable; each member is the derivative of the member of the same name of <see cref="EquilibriumPhase"/>.</summary>
/// <param name="Name">Phase.</param>
/// <param name="MoleFraction">Per unit of the variable.</param>
/// <param name="MassFraction">Per unit of the variable.</param>
/// <param name="VolumeFraction">Per unit of the variable.</param>
/// <param name="VolumeFractionMartensitic">Per unit of the variable.</param>
/// <param name="Composition">Mass percent per unit of the variable.</param>
public sealed record PhaseDerivative(
    string Name, double MoleFraction, double MassFraction, double VolumeFraction, double VolumeFractionMartensitic, ElementAmounts Composition);
