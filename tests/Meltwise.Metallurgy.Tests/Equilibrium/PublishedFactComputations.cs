using System.Globalization;
using Meltwise.Metallurgy.Equilibrium;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

// How each published figure is computed here, by the identifier in Published/equilibrium/published-facts.json.
// Where the source gives no composition the nominal one of the grade is used, as the file's notes say.
internal static class PublishedFactComputations
{
    private const string T1 = "C 0.72, Cr 4.1, V 1.1, W 18.0, Mo 0.4, Mn 0.3, Si 0.3", T2 = "C 0.85, Cr 4.1, V 2.1, W 18.0, Mo 0.4, Mn 0.3, Si 0.3";
    private const string T4 = "C 0.75, Cr 4.1, V 1.1, W 18.0, Mo 0.5, Mn 0.3, Si 0.3, Co 5.0", M4 = "C 1.3, Cr 4.25, Mo 4.5, V 4.0, W 5.5, Mn 0.3, Si 0.3";
    private const string D2 = "C 1.55, Cr 11.8, Mo 0.8, V 0.8, Mn 0.35, Si 0.3", M2 = "C 0.85, Cr 4.15, Mo 5.0, V 1.9, W 6.2, Mn 0.3, Si 0.3";
    internal const string A11 = "C 2.45, Cr 5.25, V 9.75, Mo 1.3, Mn 0.5, Si 0.9", Cr13V14 = "C 3.3, Cr 13.5, V 14.5, Mo 1.0, Mn 0.5, Si 0.5";

    private static readonly Dictionary<string, Func<double>> s_figures = Figures();

    internal static IEnumerable<string> Ids => s_figures.Keys;

    internal static double Of(string id) => s_figures[id]();

    internal static EquilibriumResult At(string composition, double celsius) => EquilibriumSolver.SolveOnce(SteelComposition.Parse(composition), celsius + 273.15);

    private static Dictionary<string, Func<double>> Figures()
    {
        Dictionary<string, Func<double>> figures = new(StringComparer.Ordinal)
        {
            ["Fe-A3"] = () => PhaseTransitions.A3(SteelComposition.FromMassPercent([])).TemperatureC!.Value,
            ["Fe-A4"] = () => EquilibriumSweep.Run(SteelComposition.FromMassPercent([]), 1573.15, 1673.15, 20).Transitions.Single(t => t.Phase == PhaseNames.Ferrite).TemperatureC,
            ["FeC-eut-T"] = () => Eutectoid,
            ["FeC-eut-C"] = () => At("C 1.0", Eutectoid + 0.05).Austenite!.Composition["C"],
            ["FeC-alpha-max"] = () => At("C 0.4", Eutectoid - 0.05).Ferrite!.Composition["C"],
            ["FeC-Acm-800"] = () => At("C 1.3", 800).Austenite!.Composition["C"],
            ["FeC-Acm-900"] = () => At("C 1.6", 900).Austenite!.Composition["C"],
            ["FeC-Acm-1000"] = () => At("C 1.9", 1000).Austenite!.Composition["C"],
            ["FeC-Acm-1147"] = () => At("C 2.5", 1147).Austenite!.Composition["C"],
            ["FeC-A3-04"] = () => PhaseTransitions.A3(SteelComposition.Parse("C 0.4")).TemperatureC!.Value,
            ["FeC-graph-1000"] = AgainstGraphite,
            ["FeCr-loop-g"] = () => LoopNose("Cr", 12.4, 900, 1100).Austenite,
            ["FeCr-loop-a"] = () => LoopNose("Cr", 12.4, 900, 1100).Ferrite,
            ["FeCr-min"] = () => new[] { 6.0, 6.5, 7.0, 7.5, 8.0 }.Min(cr => PhaseTransitions.A3(Binary("Cr", cr)).TemperatureC!.Value),
            ["FeSi-loop"] = () => AtomPercent("Si", LoopNose("Si", 1.85, 1050, 1250).Austenite),
            ["FeMo-loop"] = () => AtomPercent("Mo", LoopNose("Mo", 3.5, 1050, 1250).Austenite),
            ["FeV-loop"] = () => AtomPercent("V", LoopNose("V", 1.45, 1050, 1250).Austenite),
            ["FeW-loop"] = () => AtomPercent("W", LoopNose("W", 4.6, 1050, 1250).Austenite),
            ["FeCrC-1000-a"] = () => Corner("C 3.5, Cr 10", PhaseNames.M3C, PhaseNames.M7C3)["C"],
            ["FeCrC-1000-b"] = () => Corner("C 3.5, Cr 10", PhaseNames.M3C, PhaseNames.M7C3)["Cr"],
            ["FeCrC-1000-c"] = () => Corner("C 1.6, Cr 21", PhaseNames.M7C3, PhaseNames.M23C6)["C"],
            ["FeCrC-1000-d"] = () => Corner("C 1.6, Cr 21", PhaseNames.M7C3, PhaseNames.M23C6)["Cr"],
            ["A11-MC"] = () => 100 * At(A11, 1120).VolumeFraction(PhaseNames.MC),
            ["PM3V8Cr-MC"] = () => 100 * At("C 0.8, Cr 7.5, Mo 1.3, V 2.6, Mn 0.4, Si 0.9", 1060).VolumeFraction(PhaseNames.MC),
            ["13Cr9V-carbide"] = () => 100 * At("C 2.4, Cr 13.5, V 9.0, Mo 1.0, Mn 0.5, Si 0.5", 1120).CarbideVolumeFraction,
            ["M2-M6C"] = () => 100 * At(M2, 1220).CarbideVolumeFraction,
            ["D2-M7C3"] = () => 100 * At(D2, 1020).VolumeFraction(PhaseNames.M7C3),
            ["D2-C"] = () => At(D2, 1020).Austenite!.Composition["C"],
            ["440C-C"] = () => At("C 1.05, Cr 17.0, Mo 0.5, Mn 0.5, Si 0.5", 1050).Austenite!.Composition["C"],
        };
        foreach (double t in new[] { 850.0, 900, 950, 1000, 1050, 1100 })
            figures.Add(string.Create(CultureInfo.InvariantCulture, $"VC-{t}"), () => LogProduct("V", "C 0.45, V 1.5", t));
        foreach (double t in new[] { 950.0, 1050, 1150, 1250 })
            figures.Add(string.Create(CultureInfo.InvariantCulture, $"NbC-{t}"), () => LogProduct("Nb", "C 0.1, Nb 0.1", t));
        AddExtractions(figures);
        return figures;
    }

    private static void AddExtractions(Dictionary<string, Func<double>> figures)
    {
        void Add(string id, string elements, Func<string, double> figure)
        {
            foreach (string e in elements.Split(' ')) figures.Add($"{id}-{e}", () => figure(e));
        }
        Add("T1-hard-matrix", "C Fe W Mo Cr V", e => At(T1, 1288).Austenite!.Composition[e]);
        Add("T1-hard-carbide", "C Fe W Mo Cr V", e => Carbide(At(T1, 1288), e));
        Add("T2-hard-matrix", "C Fe W Mo Cr V", e => At(T2, 1288).Austenite!.Composition[e]);
        Add("T4-hard-matrix", "C Fe W Mo Cr V Co", e => At(T4, 1288).Austenite!.Composition[e]);
        Add("T4-hard-carbide", "C Fe W Mo Cr V Co", e => Carbide(At(T4, 1288), e));
        Add("M4-hard-matrix", "C Fe W Mo Cr", e => At(M4, 1204).Austenite!.Composition[e]);
        Add("M4-hard-carbide", "C Fe W Mo Cr V", e => Carbide(At(M4, 1204), e));
        Add("M4-annealed-carbide", "C Fe W Mo Cr V", e => Carbide(At(M4, 780), e));
        Add("M4-annealed-matrix", "Fe W Mo Cr V", e => At(M4, 780).Ferrite!.Composition[e]);
    }

    private static double Eutectoid => PhaseTransitions.A1(SteelComposition.Parse("C 0.4")).TemperatureC!.Value;

    private static SteelComposition Binary(string element, double massPercent) => SteelComposition.FromMassPercent([new(element, massPercent)]);

    private static double AgainstGraphite()
    {
        SteelComposition steel = SteelComposition.Parse("C 2.0");
        return EquilibriumSolver.For(steel.Modelled, ["graphite"]).Solve(steel, 1273.15).Austenite!.Composition["C"];
    }

    /// <summary>Largest content of the austenite, and of the ferrite beside it, over the temperatures at which a binary steel is two-phase.</summary>
    private static (double Austenite, double Ferrite) LoopNose(string element, double massPercent, double fromC, double toC)
    {
        EquilibriumResult[] both = [.. EquilibriumSweep.Run(Binary(element, massPercent), fromC + 273.15, toC + 273.15, 5).Points.Where(p => p is { Austenite: not null, Ferrite: not null })];
        return (both.Max(p => p.Austenite!.Composition[element]), both.Max(p => p.Ferrite!.Composition[element]));
    }

    private static double AtomPercent(string element, double massPercent)
    {
        double atoms = massPercent / ParameterSet.ToolSteel.MolarMass(element);
        return 100 * atoms / (atoms + (100 - massPercent) / ParameterSet.ToolSteel.MolarMass("Fe"));
    }

    private static ElementAmounts Corner(string composition, string first, string second)
    {
        EquilibriumResult result = At(composition, 1000);
        return result.Find(first) is not null && result.Find(second) is not null
            ? result.Austenite!.Composition
            : throw new InvalidOperationException($"{composition} is not in the triangle: {result}");
    }

    private static double LogProduct(string element, string composition, double celsius)
    {
        ElementAmounts austenite = At(composition, celsius).Austenite!.Composition;
        return Math.Log10(austenite[element] * austenite["C"]);
    }

    private static double Carbide(EquilibriumResult result, string element)
    {
        EquilibriumPhase[] carbides = [.. result.Phases.Where(p => PhaseNames.IsCarbide(p.Name))];
        return carbides.Sum(p => p.MassFraction * p.Composition[element]) / carbides.Sum(p => p.MassFraction);
    }
}
