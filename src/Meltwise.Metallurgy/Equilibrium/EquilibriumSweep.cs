namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Equilibria of a steel over a range of temperatures, with the temperatures at which phases come and go.</summary>
/// <param name="Points">Equilibria in ascending temperature.</param>
/// <param name="Transitions">Changes of the phases present, in ascending temperature, each located to <see cref="TransitionWidthK"/>.</param>
/// <remarks>
/// <para><b>Method.</b> Each equilibrium starts from the one before. Where the phases of two neighbours differ the interval is halved until its width is
/// <see cref="TransitionWidthK"/>.</para>
/// <para><b>Limits.</b> A phase that comes and goes between two neighbouring points is not seen: choose the step accordingly.</para>
/// </remarks>
public sealed record EquilibriumSweep(IReadOnlyList<EquilibriumResult> Points, IReadOnlyList<PhaseTransition> Transitions)
{
    /// <summary>Width to which a transition is bracketed, K.</summary>
    public const double TransitionWidthK = 0.05;

    /// <summary>Sweeps a steel.</summary>
    /// <param name="steel">The steel.</param>
    /// <param name="fromK">Lowest temperature, K.</param>
    /// <param name="toK">Highest temperature, K; always one of the points.</param>
    /// <param name="stepK">Step, K, above zero; at most 100,000 points.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentOutOfRangeException">The range is empty or the step is not above zero.</exception>
    /// <exception cref="EquilibriumRefusedException">A temperature or content outside the range of the set.</exception>
    public static EquilibriumSweep Run(SteelComposition steel, double fromK, double toK, double stepK, CancellationToken cancellation = default) =>
        Run(steel, fromK, toK, stepK, null, cancellation);

    /// <summary>Sweeps a steel and says how far it is.</summary>
    /// <inheritdoc cref="Run(SteelComposition, double, double, double, CancellationToken)"/>
    /// <param name="steel">The steel.</param>
    /// <param name="fromK">Lowest temperature, K.</param>
    /// <param name="toK">Highest temperature, K; always one of the points.</param>
    /// <param name="stepK">Step, K, above zero; at most 100,000 points.</param>
    /// <param name="progress">Told the share done, 0 to 1, after each point.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static EquilibriumSweep Run(
        SteelComposition steel, double fromK, double toK, double stepK, IProgress<double>? progress, CancellationToken cancellation)
    {
        if (!(toK >= fromK)) throw new ArgumentOutOfRangeException(nameof(toK), toK, "The highest temperature is below the lowest.");
        if (!(stepK > 0) || (toK - fromK) / stepK > 100_000) throw new ArgumentOutOfRangeException(nameof(stepK), stepK, "The step is above zero and gives at most 100,000 points.");
        EquilibriumSolver solver = EquilibriumSolver.For(steel);
        List<EquilibriumResult> points = [];
        List<PhaseTransition> transitions = [];
        int steps = (int)Math.Ceiling((toK - fromK) / stepK - 1e-9);
        for (int i = 0; i <= steps; i++)
        {
            cancellation.ThrowIfCancellationRequested();
            EquilibriumResult next = solver.Solve(steel, Math.Min(fromK + i * stepK, toK), points.Count > 0 ? points[^1] : null);
            if (points.Count > 0) Locate(solver, points[^1], next, transitions);
            points.Add(next);
            progress?.Report((i + 1.0) / (steps + 1));
        }
        return new EquilibriumSweep(points, transitions);
    }

    private static void Locate(EquilibriumSolver solver, EquilibriumResult below, EquilibriumResult above, List<PhaseTransition> transitions)
    {
        if (Names(below).SequenceEqual(Names(above), StringComparer.Ordinal)) return;
        double middle = (below.TemperatureK + above.TemperatureK) / 2;
        if (above.TemperatureK - below.TemperatureK <= TransitionWidthK)
        {
            List<string> gone = [.. Names(below)], come = [.. Names(above)];
            foreach (string name in Names(above)) gone.Remove(name);
            foreach (string name in Names(below)) come.Remove(name);
            transitions.AddRange(gone.Select(name => new PhaseTransition(middle, name, AppearsOnHeating: false)));
            transitions.AddRange(come.Select(name => new PhaseTransition(middle, name, AppearsOnHeating: true)));
            return;
        }
        EquilibriumResult between = solver.Solve(below.Steel, middle, below);
        Locate(solver, below, between, transitions);
        Locate(solver, between, above, transitions);
    }

    private static IEnumerable<string> Names(EquilibriumResult result) => result.Phases.Select(p => p.Name).Order(StringComparer.Ordinal);
}
