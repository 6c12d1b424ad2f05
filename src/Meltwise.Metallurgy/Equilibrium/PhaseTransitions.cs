namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A temperature at which a phase comes or goes on heating.</summary>
/// <param name="TemperatureK">Within <see cref="EquilibriumSweep.TransitionWidthK"/> of the boundary.</param>
/// <param name="Phase">Phase that comes or goes.</param>
/// <param name="AppearsOnHeating">True when it is present above, false when it is present below.</param>
public sealed record PhaseTransition(double TemperatureK, string Phase, bool AppearsOnHeating)
{
    /// <summary>Temperature, °C.</summary>
    public double TemperatureC => TemperatureK - 273.15;
}

/// <summary>Answer to a question for a temperature: the temperature, or why there is none.</summary>
/// <param name="Question">What was asked, with its definition.</param>
/// <param name="TemperatureK">The answer, K, or null.</param>
/// <param name="Note">Why there is no answer, or what limits it; empty when nothing does.</param>
public sealed record TransitionAnswer(string Question, double? TemperatureK, string Note)
{
    /// <summary>The answer in °C, or null.</summary>
    public double? TemperatureC => TemperatureK - 273.15;
}

/// <summary>Temperatures of phase changes of a steel on slow heating: A1, A3, Acm and the solvus of a carbide.</summary>
/// <remarks>
/// <para><b>Definitions.</b> A1: the lowest temperature at which austenite is stable. A3: the temperature above which ferrite is gone. Acm: the
/// temperature above which M3C is gone from austenite. Solvus: the temperature above which a carbide is gone. All at equilibrium; heating and cooling shift them.</para>
/// <para><b>Method.</b> The equilibria are swept in steps of 10 K over 600 °C to the top of the parameter set's range and the change is bisected.</para>
/// <para><b>Limits.</b> No liquid in the set: a carbide that is still there at the top of the range gets no answer. A1 in alloyed steel opens a range of
/// temperatures with ferrite, austenite and carbide together, not a point.</para>
/// </remarks>
public static class PhaseTransitions
{
    private const double FromK = 600 + 273.15;
    private const double StepK = 10;

    /// <summary>Lowest temperature at which austenite is stable.</summary>
    public static TransitionAnswer A1(SteelComposition steel) => A1(Sweep(steel, null, default));

    /// <summary>Temperature above which ferrite is gone.</summary>
    public static TransitionAnswer A3(SteelComposition steel) => A3(Sweep(steel, null, default));

    /// <summary>Temperature above which cementite (M3C) is gone from austenite.</summary>
    public static TransitionAnswer Acm(SteelComposition steel) => Acm(Sweep(steel, null, default));

    /// <summary>Temperature above which a carbide is gone.</summary>
    /// <param name="steel">The steel.</param>
    /// <param name="carbide">One of <see cref="PhaseNames"/>.</param>
    public static TransitionAnswer CarbideSolvus(SteelComposition steel, string carbide) => Solvus(Sweep(steel, null, default), carbide);

    /// <summary>A1, A3, Acm and the solvus of every carbide that is stable anywhere from 600 °C up, from one sweep.</summary>
    /// <param name="steel">The steel.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="EquilibriumRefusedException">The steel is outside the parameter set.</exception>
    public static IReadOnlyList<TransitionAnswer> All(SteelComposition steel, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        EquilibriumSweep sweep = Sweep(steel, progress, cancel);
        IEnumerable<string> carbides = sweep.Points.SelectMany(p => p.Phases).Select(p => p.Name).Distinct(StringComparer.Ordinal)
            .Where(n => PhaseNames.IsCarbide(n) && n != PhaseNames.M3C).Order(StringComparer.Ordinal);
        return [A1(sweep), A3(sweep), Acm(sweep), .. carbides.Select(c => Solvus(sweep, c))];
    }

    private static EquilibriumSweep Sweep(SteelComposition steel, IProgress<double>? progress, CancellationToken cancel) =>
        EquilibriumSweep.Run(steel, FromK, ParameterSet.ToolSteel.ValidToC + 273.15, StepK, progress, cancel);

    private static TransitionAnswer A1(EquilibriumSweep sweep) =>
        Find(sweep, "A1: lowest temperature at which austenite is stable", PhaseNames.Austenite, appears: true);

    private static TransitionAnswer A3(EquilibriumSweep sweep) =>
        Find(sweep, "A3: temperature above which ferrite is gone", PhaseNames.Ferrite, appears: false);

    private static TransitionAnswer Acm(EquilibriumSweep sweep)
    {
        TransitionAnswer answer = Find(sweep, "Acm: temperature above which M3C is gone from austenite", PhaseNames.M3C, appears: false);
        if (answer.TemperatureK is not { } k) return answer;
        return A1(sweep).TemperatureK is { } start && k > start
            ? answer
            : answer with { TemperatureK = null, Note = "M3C is gone before austenite is stable: there is no Acm." };
    }

    private static TransitionAnswer Solvus(EquilibriumSweep sweep, string carbide) =>
        Find(sweep, $"Solvus of {carbide}: temperature above which it is gone", carbide, appears: false);

    private static TransitionAnswer Find(EquilibriumSweep sweep, string question, string phase, bool appears)
    {
        double top = sweep.Points[^1].TemperatureC;
        PhaseTransition[] changes = [.. sweep.Transitions.Where(t => t.Phase == phase && t.AppearsOnHeating == appears)];
        bool atBottom = sweep.Points[0].Find(phase) is not null, atTop = sweep.Points[^1].Find(phase) is not null;
        if (appears && atBottom) return new(question, null, $"{phase} is already stable at 600 °C, the lowest temperature asked.");
        if (changes.Length == 0)
            return new(question, null, appears ? $"{phase} is not stable up to {top:0} °C."
                : atTop ? $"{phase} is still there at {top:0} °C, the top of the set's range; the set holds no liquid." : $"{phase} is not stable from 600 °C up.");
        // Ferrite may come back as delta ferrite; the question is for the first time it goes.
        PhaseTransition first = changes[0], last = changes[^1];
        bool returns = !appears && phase == PhaseNames.Ferrite && (changes.Length > 1 || atTop);
        if (!appears && phase != PhaseNames.Ferrite)
            return atTop ? new(question, null, $"{phase} is still there at {top:0} °C, the top of the set's range; the set holds no liquid.") : new(question, last.TemperatureK, "");
        return new(question, first.TemperatureK, returns ? "Ferrite comes back at a higher temperature." : "");
    }
}
