using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Transformation;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;

namespace Meltwise.Web.Steel;

/// <summary>One steel at its hardening temperature: equilibrium, martensite start, austenite left after the quench, and the phases over temperature.</summary>
public sealed record CalculatedSteel(
    string Name, SteelComposition Steel, EquilibriumResult Equilibrium, MartensiteStartResult? MartensiteStart, RetainedAustenite? Retained, Figure? OverTemperature)
{
    private const double SweepFromC = 800, SweepToC = 1250, SweepStepK = 10;

    /// <summary>Computes it.</summary>
    /// <exception cref="EquilibriumRefusedException">Outside the models.</exception>
    public static CalculatedSteel Of(string name, SteelComposition steel, double atC, double quenchToC)
    {
        EquilibriumResult result = EquilibriumSolver.SolveOnce(steel, atC + 273.15);
        MartensiteStartResult? ms = result.Austenite is { } austenite ? StartOf(austenite) : null;
        RetainedAustenite? retained = ms is null ? null : KoistinenMarburger.After(ms, [quenchToC], result.CarbideVolumeFraction);
        return new(name, steel, result, ms, retained, Draw(name, steel, atC));
    }

    private static MartensiteStartResult StartOf(EquilibriumPhase austenite)
    {
        AlloyContent content = default;
        foreach (AlloyElement element in AlloyContent.Elements)
        {
            content[element] = austenite.Composition[element.ToString()];
        }

        return Metallurgy.Transformation.MartensiteStart.Of(content);
    }

    private static Figure? Draw(string name, SteelComposition steel, double atC)
    {
        EquilibriumSweep sweep = EquilibriumSweep.Run(steel, SweepFromC + 273.15, SweepToC + 273.15, SweepStepK);
        PhaseCurve[] carbides =
        [
            .. sweep.Points.SelectMany(p => p.Phases).Select(p => p.Name).Distinct().Where(PhaseNames.IsCarbide).Order(StringComparer.Ordinal)
                .Select(phase => new PhaseCurve(phase, [.. sweep.Points.Select(p => new Place(p.TemperatureC, 100 * p.VolumeFraction(phase)))])),
        ];
        return carbides.Length == 0 ? null : PhaseFigure.Build(name, "vol%", carbides, atC);
    }
}
