namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A set of published Gibbs-energy parameters: what the equilibrium is computed from, with the citation of every number.</summary>
/// <remarks>
/// <para><b>Form.</b> Compound energy formalism: [Hillert2001]; the conventions of signs, orders and magnetic terms are in <c>docs/methods/Equilibrium.md</c>.</para>
/// <para><b>Range.</b> <see cref="ValidFromC"/> to <see cref="ValidToC"/>. No liquid phase: melting is not predicted.</para>
/// </remarks>
public sealed class ParameterSet
{
    private static readonly Lazy<ParameterSet> s_toolSteel = new(() => ParameterSetReader.ReadEmbedded("tool-steel-classic-1.json"));

    /// <summary>The shipped set for tool steels, <c>tool-steel-classic-1</c>.</summary>
    public static ParameterSet ToolSteel => s_toolSteel.Value;

    /// <summary>The licence notice that travels with the shipped set.</summary>
    public static string ToolSteelLicence => ParameterSetReader.ReadEmbeddedText("tool-steel-classic-1.LICENCE.txt");

    /// <summary>Name of the set.</summary>
    public required string Id { get; init; }

    /// <summary>What the set holds, in words.</summary>
    public required string Description { get; init; }

    /// <summary>Lower end of the temperatures the set was checked for, °C.</summary>
    public required double ValidFromC { get; init; }

    /// <summary>Upper end of the temperatures the set was checked for, °C.</summary>
    public required double ValidToC { get; init; }

    /// <summary>Gas constant the parameters were fitted with, J/(mol K).</summary>
    public required double GasConstant { get; init; }

    /// <summary>Elements of the set.</summary>
    public required IReadOnlyList<ParameterElement> Elements { get; init; }

    /// <summary>Literature behind the citation keys.</summary>
    public required IReadOnlyDictionary<string, string> References { get; init; }

    /// <summary>What each provenance word of a parameter means.</summary>
    public required IReadOnlyDictionary<string, string> ProvenanceLegend { get; init; }

    /// <summary>Phases switched off unless asked for, with the reason.</summary>
    public required IReadOnlyDictionary<string, string> OffByDefault { get; init; }

    internal IReadOnlyList<TemperatureFunction> Functions { get; init; } = [];

    internal IReadOnlyList<PhaseDescription> Phases { get; init; } = [];

    internal IReadOnlyList<string> DefaultPhases { get; init; } = [];

    /// <summary>Molar mass of an element of the set, g/mol.</summary>
    /// <exception cref="ArgumentException">The set does not hold the element.</exception>
    public double MolarMass(string element)
    {
        foreach (ParameterElement e in Elements)
            if (e.Symbol == element) return e.MolarMassGPerMol;
        throw new ArgumentException($"Element {element} is not in the parameter set {Id}, which holds {string.Join(" ", Elements.Select(e => e.Symbol))}.", nameof(element));
    }

    /// <summary>True when the set holds the element.</summary>
    public bool Holds(string element) => Elements.Any(e => e.Symbol == element);
}

/// <summary>An element of a parameter set.</summary>
/// <param name="Symbol">Chemical symbol.</param>
/// <param name="MolarMassGPerMol">Molar mass used with the set, g/mol.</param>
public sealed record ParameterElement(string Symbol, double MolarMassGPerMol);

/// <summary>Where one parameter comes from.</summary>
/// <param name="Phase">Phase model the parameter belongs to.</param>
/// <param name="Parameter">The parameter: kind, constituents by sublattice, order.</param>
/// <param name="Citation">Literature reference in full.</param>
/// <param name="Provenance">Status word; <see cref="ParameterSet.ProvenanceLegend"/> explains it.</param>
/// <param name="Note">Remark on the parameter, or null.</param>
public sealed record ParameterSource(string Phase, string Parameter, string Citation, string Provenance, string? Note);

/// <summary>What a parameter contributes to.</summary>
internal enum ParameterKind
{
    Gibbs,
    CurieTemperature,
    MagneticMoment,
}

/// <summary>One parameter of a phase, as published.</summary>
internal sealed record PhaseParameter(
    ParameterKind Kind, string[][] Species, int Order, bool HasHigherOrders, TemperatureFunction Function, string Reference, string Provenance, string? Note)
{
    internal ParameterSource Source(string phase, ParameterSet set) => new(
        phase,
        $"{Kind switch { ParameterKind.CurieTemperature => "Tc", ParameterKind.MagneticMoment => "beta", _ => Species.All(s => s.Length == 1) ? "G" : "L" }}"
            + $"({string.Join(":", Species.Select(s => string.Join(",", s)))};{Order})",
        set.References[Reference], Provenance, Note);
}

/// <summary>A phase model as published: sublattices, their constituents, magnetic factors, parameters.</summary>
internal sealed record PhaseDescription(
    string Id, double[] Sites, string[][] Constituents, MagneticFactors? Magnetic, IReadOnlyList<PhaseParameter> Parameters);

/// <summary>The two constants of the magnetic model of a structure.</summary>
/// <param name="AntiferromagneticFactor">Divides a negative Curie temperature or moment.</param>
/// <param name="StructureFactor">Share of the magnetic enthalpy absorbed above the Curie temperature.</param>
internal sealed record MagneticFactors(double AntiferromagneticFactor, double StructureFactor);
