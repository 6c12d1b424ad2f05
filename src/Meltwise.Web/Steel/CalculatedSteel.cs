using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;
using Meltwise.Web.LongWork;

namespace Meltwise.Web.Steel;

/// <summary>One steel at its hardening temperature: equilibrium, what quench and tempers make of it, its transitions, and the phases over temperature.</summary>
/// <param name="Name">Name on the page.</param>
/// <param name="Steel">Composition.</param>
/// <param name="Equilibrium">Equilibrium at the hardening temperature.</param>
/// <param name="Forecast">Martensite start, retained austenite and hardness; null without austenite.</param>
/// <param name="Transitions">A1, A3, Acm and the solvus of each carbide.</param>
/// <param name="OverTemperature">Carbides over temperature, or null when there is none.</param>
public sealed record CalculatedSteel(
    string Name, SteelComposition Steel, EquilibriumResult Equilibrium, HardeningForecastResult? Forecast, IReadOnlyList<TransitionAnswer> Transitions, Figure? OverTemperature)
{
    private const double SweepFromC = 800, SweepToC = 1250, SweepStepK = 10;

    /// <summary>Computes it.</summary>
    /// <param name="name">Name on the page.</param>
    /// <param name="steel">Composition.</param>
    /// <param name="setting">Hardening temperature, quench and tempers.</param>
    /// <param name="progress">Told the share done.</param>
    /// <param name="cancel">Stops it.</param>
    /// <exception cref="EquilibriumRefusedException">Outside the models.</exception>
    /// <exception cref="OperationCanceledException">Stopped by <paramref name="cancel"/>.</exception>
    public static CalculatedSteel Of(string name, SteelComposition steel, SteelSetting setting, IProgress<double> progress, CancellationToken cancel)
    {
        EquilibriumResult result = EquilibriumSolver.SolveOnce(steel, setting.AtC + 273.15);
        HardeningForecastResult? forecast = result.Austenite is null ? null : HardeningForecast.Of(result, [setting.QuenchC], setting.Tempers, setting.Soak);
        return new(name, steel, result, forecast, PhaseTransitions.All(steel, new ShareOfWork(progress, 0, 0.6), cancel), Draw(name, steel, setting.AtC, new ShareOfWork(progress, 0.6, 1), cancel));
    }

    private static Figure? Draw(string name, SteelComposition steel, double atC, IProgress<double> progress, CancellationToken cancel)
    {
        EquilibriumSweep sweep = EquilibriumSweep.Run(steel, SweepFromC + 273.15, SweepToC + 273.15, SweepStepK, progress, cancel);
        PhaseCurve[] carbides =
        [
            .. sweep.Points.SelectMany(p => p.Phases).Select(p => p.Name).Distinct().Where(PhaseNames.IsCarbide).Order(StringComparer.Ordinal)
                .Select(phase => new PhaseCurve(phase, [.. sweep.Points.Select(p => new Place(p.TemperatureC, 100 * p.VolumeFraction(phase)))])),
        ];
        return carbides.Length == 0 ? null : PhaseFigure.Build(name, "vol%", carbides, atC);
    }
}
