using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed class EquilibriumSolverTests
{
    private static readonly SteelComposition s_d2 = SteelComposition.Parse("C 1.55, Cr 11.8, Mo 0.8, V 0.8, Mn 0.35, Si 0.3");

    [Theory]
    [InlineData(590)]
    [InlineData(1410)]
    [InlineData(double.NaN)]
    public void Temperatures_outside_the_range_are_refused(double celsius) =>
        Assert.Contains("600 to 1400", Assert.Throws<EquilibriumRefusedException>(() => EquilibriumSolver.SolveOnce(s_d2, celsius + 273.15)).Reason, StringComparison.Ordinal);

    [Fact]
    public void Contents_outside_the_range_are_refused() =>
        Assert.StartsWith("Cr: found 35", Assert.Throws<EquilibriumRefusedException>(() => EquilibriumSolver.SolveOnce(s_d2.With("Cr", 35), 1300)).Reason, StringComparison.Ordinal);

    [Fact]
    public void What_is_not_a_steel_is_refused() =>
        Assert.StartsWith("Fe: found 45", Assert.Throws<EquilibriumRefusedException>(() => EquilibriumSolver.SolveOnce(SteelComposition.Parse("C 3, Cr 25, V 15, Si 2, Mo 10"), 1300)).Reason, StringComparison.Ordinal);

    [Fact]
    public void A_steel_of_other_elements_needs_another_solver() =>
        Assert.Throws<ArgumentException>(() => EquilibriumSolver.For(s_d2).Solve(SteelComposition.Parse("C 1"), 1300));

    // The known failures are those of the parameter set's own comparison with published facts; see docs/methods/Equilibrium.md.
    [Theory]
    [InlineData("C 3.3, Cr 13.5, V 14.5, Mo 1.0, Mn 0.5, Si 0.5", 1120, "ferrite")]
    [InlineData("C 0.4, Cr 9, Mo 1, V 0.2", 800, "M23C6-low-chromium")]
    [InlineData("C 1.05, Cr 17, Mo 0.5", 1050, "M23C6-high-chromium")]
    [InlineData("C 1.0, Cr 5.1, Mo 1.1, V 0.25", 940, "M7C3-molybdenum")]
    [InlineData("C 1.0, Cr 5.1, Ni 0.3", 970, "extended-elements")]
    [InlineData("C 1.0, Cr 5.1, P 0.02, Cu 0.1", 970, "elements-left-out")]
    [InlineData("C 1.0, Cr 5.1", 690, "temperature-outside")]
    [InlineData("C 1.0, Cr 20", 1000, "content-outside")]
    public void Known_failures_are_warned_of(string composition, double celsius, string code) =>
        Assert.Contains(EquilibriumSolver.SolveOnce(SteelComposition.Parse(composition), celsius + 273.15).Warnings, w => w.Code == code);

    [Fact]
    public void A_plain_case_has_no_warnings() => Assert.Empty(EquilibriumSolver.SolveOnce(s_d2, 1293.15).Warnings);

    [Fact]
    public void Every_parameter_in_use_has_its_citation()
    {
        IReadOnlyList<ParameterSource> sources = EquilibriumSolver.SolveOnce(s_d2, 1293.15).Sources;

        Assert.True(sources.Count > 200);
        Assert.All(sources, s => Assert.True(s.Citation.Length > 10 && ParameterSet.ToolSteel.ProvenanceLegend.ContainsKey(s.Provenance), $"{s.Phase} {s.Parameter}"));
        Assert.Contains("Permission is hereby granted", ParameterSet.ToolSteelLicence, StringComparison.Ordinal);
    }

    [Fact]
    public void Warm_and_cold_starts_agree()
    {
        EquilibriumSolver solver = EquilibriumSolver.For(s_d2);
        EquilibriumResult start = solver.Solve(s_d2, 1000 + 273.15);
        SteelComposition other = s_d2.With("C", 1.6).With("V", 0.9);
        EquilibriumResult warm = solver.Solve(other, 1040 + 273.15, start), cold = EquilibriumSolver.SolveOnce(other, 1040 + 273.15);

        Assert.Equal(cold.Phases.Select(p => p.Name), warm.Phases.Select(p => p.Name));
        foreach ((EquilibriumPhase a, EquilibriumPhase b) in cold.Phases.Zip(warm.Phases))
        {
            Assert.Equal(a.MoleFraction, b.MoleFraction, 1e-10);
            foreach (string e in other.Modelled) Assert.Equal(a.Composition[e], b.Composition[e], 1e-8);
        }
    }

    // A start with the wrong phases must not stay wrong: H13 started from D2-like phases loses its M7C3 and gains MC.
    [Fact]
    public void A_start_from_other_phases_finds_the_right_ones()
    {
        EquilibriumSolver solver = EquilibriumSolver.For(s_d2);
        SteelComposition h13 = SteelComposition.Parse("C 0.4, Cr 5.2, Mo 1.35, V 1.0, Mn 0.4, Si 1.0");
        EquilibriumResult result = solver.Solve(h13, 1030 + 273.15, solver.Solve(s_d2, 1030 + 273.15));

        Assert.Equal([PhaseNames.Austenite, PhaseNames.MC], result.Phases.Select(p => p.Name));
    }

    // Draws of an explanation are spread over threads, each with its own solver: what a solver was asked before must not show in any digit.
    [Fact]
    public void The_answer_does_not_depend_on_the_history_of_the_solver()
    {
        SteelComposition m2 = SteelComposition.Parse("C 0.85, Cr 4.15, Mo 5.0, V 1.9, W 6.2, Mn 0.3, Si 0.3");
        EquilibriumSolver fresh = EquilibriumSolver.For(m2), used = EquilibriumSolver.For(m2);
        EquilibriumResult start = fresh.Solve(m2, 1460);
        for (int i = 0; i < 20; i++) used.Solve(m2.With("V", 0.05 + 0.4 * i), 1100 + 20 * i);

        // With 0.3 V there is no MC at the start's temperature, with 4 V more of it; both need phases to come or go.
        foreach (double vanadium in new[] { 0.3, 1.9, 4.0 })
            for (double kelvin = 1000; kelvin < 1500; kelvin += 90)
            {
                EquilibriumResult a = fresh.Solve(m2.With("V", vanadium), kelvin, start), b = used.Solve(m2.With("V", vanadium), kelvin, start);
                used.Solve(m2, kelvin + 37, a);
                Assert.Equal(a.Phases.SelectMany(p => p.Composition.Values.Append(p.MoleFraction)), b.Phases.SelectMany(p => p.Composition.Values.Append(p.MoleFraction)));
            }
    }

    [Fact]
    public void A_start_for_other_elements_is_ignored()
    {
        EquilibriumResult other = EquilibriumSolver.SolveOnce(SteelComposition.Parse("C 1.0, Cr 5, Mo 1, V 0.3, Mn 0.5, Ni 0.3"), 1250);

        Assert.Equal(EquilibriumSolver.SolveOnce(s_d2, 1293.15).Phases[0].MoleFraction, EquilibriumSolver.For(s_d2).Solve(s_d2, 1293.15, other).Phases[0].MoleFraction);
    }

    [Theory]
    [InlineData(1e-3, 0, 0)]
    [InlineData(0, 1e-10, 0)]
    [InlineData(0, 0, 1e-3)]
    [InlineData(double.NaN, 0, 0)]
    public void A_certificate_that_does_not_hold_says_so(double drivingForce, double balance, double mismatch)
    {
        Assert.False(new EquilibriumCertificate(drivingForce, balance, mismatch, 1000).IsValid);
        Assert.True(new EquilibriumCertificate(1e-8, 1e-14, 1e-8, 1000).IsValid);
    }

    [Fact]
    public void Newton_and_the_search_allocate_nothing()
    {
        EquilibriumSolver solver = EquilibriumSolver.For(s_d2);
        double[] b = [.. solver.Elements.Select(e => s_d2[e] / ParameterSet.ToolSteel.MolarMass(e))];
        double sum = b.Sum();
        for (int e = 0; e < b.Length; e++) b[e] /= sum;
        solver.Solve(s_d2, 1293.15);
        b[1] += 1e-4;
        b[0] -= 1e-4;
        Assert.True(solver.Minimiser.Refine(b));

        b[1] -= 2e-4;
        b[0] += 2e-4;
        long before = GC.GetAllocatedBytesForCurrentThread();
        bool found = solver.Minimiser.Refine(b);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.True(found);
        Assert.True(solver.Minimiser.Newton.Iterations > 2, "the system was moved, so Newton has work to do");
        Assert.Equal(0, allocated);
    }
}
