using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed class EquilibriumSweepTests
{
    [Fact]
    public void Points_cover_the_range_and_transitions_separate_the_phases_present()
    {
        EquilibriumSweep sweep = EquilibriumSweep.Run(SteelComposition.Parse("C 1.05, Cr 17, Mo 0.5, Mn 0.5, Si 0.5"), 1000 + 273.15, 1105 + 273.15, 10, TestContext.Current.CancellationToken);

        Assert.Equal(12, sweep.Points.Count);
        Assert.Equal(1105 + 273.15, sweep.Points[^1].TemperatureK, 9);
        // The oracle file holds this steel: M23C6 alone at 1020, both at 1050 and 1080; so M7C3 comes, and then M23C6 goes.
        Assert.Equal([(PhaseNames.M7C3, true), (PhaseNames.M23C6, false)], sweep.Transitions.Select(t => (t.Phase, t.AppearsOnHeating)));
        Assert.InRange(sweep.Transitions[0].TemperatureC, 1020, 1050);
        Assert.InRange(sweep.Transitions[1].TemperatureC, 1080, 1105);
    }

    [Fact]
    public void A_transition_is_located_to_a_tenth_of_a_kelvin()
    {
        SteelComposition steel = SteelComposition.Parse("C 1.05, Cr 17, Mo 0.5, Mn 0.5, Si 0.5");
        PhaseTransition gone = EquilibriumSweep.Run(steel, 1070 + 273.15, 1100 + 273.15, 10, TestContext.Current.CancellationToken).Transitions.Single(t => t.Phase == PhaseNames.M23C6);

        Assert.NotNull(EquilibriumSolver.SolveOnce(steel, gone.TemperatureK - 0.05).Find(PhaseNames.M23C6));
        Assert.Null(EquilibriumSolver.SolveOnce(steel, gone.TemperatureK + 0.05).Find(PhaseNames.M23C6));
    }

    [Fact]
    public void A_sweep_reports_its_progress_and_can_be_stopped()
    {
        using CancellationTokenSource stop = new();
        Shares shares = new(stop, after: 3);

        Assert.Throws<OperationCanceledException>(() => EquilibriumSweep.Run(SteelComposition.Parse("C 1"), 1100, 1190, 10, shares, stop.Token));
        Assert.Equal([0.1, 0.2, 0.3], shares.Seen, (a, b) => Math.Abs(a - b) < 1e-12);
    }

    private sealed class Shares(CancellationTokenSource stop, int after) : IProgress<double>
    {
        public List<double> Seen { get; } = [];

        public void Report(double value)
        {
            Seen.Add(value);
            if (Seen.Count == after) stop.Cancel();
        }
    }

    [Fact]
    public void An_empty_range_or_step_is_refused()
    {
        SteelComposition steel = SteelComposition.Parse("C 1");
        Assert.Throws<ArgumentOutOfRangeException>(() => EquilibriumSweep.Run(steel, 1300, 1200, 10, TestContext.Current.CancellationToken));
        Assert.Throws<ArgumentOutOfRangeException>(() => EquilibriumSweep.Run(steel, 1200, 1300, 0, TestContext.Current.CancellationToken));
    }
}
