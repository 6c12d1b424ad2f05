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
    public static TransitionAnswer A1(SteelComposition steel) =>
        Find(steel, "A1: lowest temperature at which austenite is stable", PhaseNames.Austenite, appears: true);

    /// <summary>Temperature above which ferrite is gone.</summary>
    public static TransitionAnswer A3(SteelComposition steel) =>
        Find(steel, "A3: temperature above which ferrite is gone", PhaseNames.Ferrite, appears: false);

    /// <summary>Temperature above which cementite (M3C) is gone from austenite.</summary>
    public static TransitionAnswer Acm(SteelComposition steel)
    {
        TransitionAnswer answer = Find(steel, "Acm: temperature above which M3C is gone from austenite", PhaseNames.M3C, appears: false);
        if (answer.TemperatureK is not { } k) return answer;
        TransitionAnswer a1 = A1(steel);
        return a1.TemperatureK is { } start && k > start
            ? answer
            : answer with { TemperatureK = null, Note = "M3C is gone before austenite is stable: there is no Acm." };
    }

    /// <summary>Temperature above which a carbide is gone.</summary>
    /// <param name="steel">The steel.</param>
    /// <param name="carbide">One of <see cref="PhaseNames"/>.</param>
    public static TransitionAnswer CarbideSolvus(SteelComposition steel, string carbide) =>
        Find(steel, $"solvus of {carbide}: temperature above which it is gone", carbide, appears: false);

    private static TransitionAnswer Find(SteelComposition steel, string question, string phase, bool appears)
    {
        double top = ParameterSet.ToolSteel.ValidToC + 273.15;
        EquilibriumSweep sweep = EquilibriumSweep.Run(steel, FromK, top, StepK);
        PhaseTransition[] changes = [.. sweep.Transitions.Where(t => t.Phase == phase && t.AppearsOnHeating == appears)];
        bool atBottom = sweep.Points[0].Find(phase) is not null, atTop = sweep.Points[^1].Find(phase) is not null;
        if (appears && atBottom) return new(question, null, $"{phase} is already stable at 600 °C, the lowest temperature asked.");
        if (changes.Length == 0)
            return new(question, null, appears ? $"{phase} is not stable up to {top - 273.15:0} °C."
                : atTop ? $"{phase} is still there at {top - 273.15:0} °C, the top of the set's range; the set holds no liquid." : $"{phase} is not stable from 600 °C up.");
        // Ferrite may come back as delta ferrite; the question is for the first time it goes.
        PhaseTransition first = changes[0], last = changes[^1];
        bool returns = !appears && phase == PhaseNames.Ferrite && (changes.Length > 1 || atTop);
        if (!appears && phase != PhaseNames.Ferrite)
            return atTop ? new(question, null, $"{phase} is still there at {top - 273.15:0} °C, the top of the set's range; the set holds no liquid.") : new(question, last.TemperatureK, "");
        return new(question, first.TemperatureK, returns ? "Ferrite comes back at a higher temperature." : "");
    }
}
