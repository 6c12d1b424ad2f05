using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>The soak reaches equilibrium at the hardening temperature: the exact solver, started each time from the nominal steel's state.</summary>
/// <remarks>
/// <para><b>Method.</b> One cold solve of the nominal steel, then a warm solve of each draw from it. Starting every draw from the same state, and not from
/// the draw before, makes the answer independent of the order and of the number of threads.</para>
/// <para><b>Limits.</b> Those of <see cref="EquilibriumSolver"/>. A hardening soak is short: large carbides dissolve less than this says.</para>
/// </remarks>
public sealed class EquilibriumSoak : ISoakAssumption
{
    /// <summary>Content that keeps an element in the set of the solver when it reaches zero, mass percent.</summary>
    internal const double LeastMassPercent = 1e-6;

    /// <inheritdoc/>
    public string Words => "The soak is taken to reach equilibrium; large primary carbides may dissolve less in a short soak.";

    /// <inheritdoc/>
    public ISoak Near(AlloyContent steel, double temperatureK) => new Solved(steel, temperatureK, annealed: false);

    /// <inheritdoc/>
    public IReadOnlyList<string> WarningsFor(AlloyContent steel, double temperatureK) =>
        [.. EquilibriumSolver.SolveOnce(Composition(steel), temperatureK).Warnings.Select(w => w.Text)];

    /// <summary>The equilibrium of annealing, where the matrix is ferrite.</summary>
    internal static ISoak Annealed(AlloyContent steel, double temperatureK) => new Solved(steel, temperatureK, annealed: true);

    /// <summary>What a result of the solver means for the chain.</summary>
    /// <exception cref="ChainRefusedException">There is no austenite at this temperature.</exception>
    public static SoakedState StateOf(EquilibriumResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return StateOf(result, result.Austenite);
    }

    private static SoakedState StateOf(EquilibriumResult result, EquilibriumPhase? matrix)
    {
        EquilibriumPhase austenite = matrix
            ?? throw new ChainRefusedException($"There is no austenite in {result.Steel} at {result.TemperatureC:0} °C: it cannot be hardened from there.");
        AlloyContent dissolved = default;
        foreach ((string element, double massPercent) in austenite.Composition)
            if (element != "Fe") dissolved[Enum.Parse<AlloyElement>(element)] = massPercent;
        CarbideVolumes carbides = default;
        double ferrite = 0;
        foreach (EquilibriumPhase phase in result.Phases)
        {
            if (phase.Name == PhaseNames.Ferrite) ferrite += phase.VolumeFraction;
            else if (Enum.TryParse(phase.Name, out CarbideKind kind)) carbides[kind] += phase.VolumeFraction;
        }
        return new(dissolved, carbides, ferrite);
    }

    /// <summary>The chain's form of mass percents; elements that the chain does not hold are left out.</summary>
    public static AlloyContent Alloy(ElementAmounts massPercent)
    {
        ArgumentNullException.ThrowIfNull(massPercent);
        AlloyContent content = default;
        foreach (AlloyElement element in AlloyContent.Elements) content[element] = massPercent[element.ToString()];
        return content;
    }

    /// <summary>The solver's form of a composition.</summary>
    public static SteelComposition Composition(AlloyContent steel) => SteelComposition.FromMassPercent(
        AlloyContent.Elements.Where(e => steel[e] > 0).Select(e => new KeyValuePair<string, double>(e.ToString(), steel[e])));

    private sealed class Solved : ISoak
    {
        private readonly EquilibriumSolver _solver;
        private readonly EquilibriumResult _near;
        private readonly AlloyElement[] _elements;
        private readonly bool _annealed;

        public Solved(AlloyContent steel, double temperatureK, bool annealed)
        {
            _annealed = annealed;
            _elements = [.. AlloyContent.Elements.Where(e => steel[e] > 0)];
            SteelComposition nominal = CompositionOf(steel);
            _solver = EquilibriumSolver.For(nominal);
            _near = _solver.Solve(nominal, temperatureK);
        }

        public SoakedState Of(AlloyContent steel)
        {
            EquilibriumResult result = _solver.Solve(CompositionOf(steel), _near.TemperatureK, _near);
            return StateOf(result, _annealed ? result.Ferrite ?? result.Austenite : result.Austenite);
        }

        private SteelComposition CompositionOf(AlloyContent steel)
        {
            foreach (AlloyElement e in AlloyContent.Elements)
                if (steel[e] > 0 && Array.IndexOf(_elements, e) < 0)
                    throw new ArgumentException($"{e} is in {steel}, but this soak was made for a steel without it.", nameof(steel));
            KeyValuePair<string, double>[] contents = new KeyValuePair<string, double>[_elements.Length];
            for (int i = 0; i < contents.Length; i++) contents[i] = new(_elements[i].ToString(), Math.Max(LeastMassPercent, steel[_elements[i]]));
            return SteelComposition.FromMassPercent(contents);
        }
    }
}
