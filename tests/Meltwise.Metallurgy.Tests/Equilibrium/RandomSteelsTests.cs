using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed class RandomSteelsTests
{
    private static (SteelComposition Steel, double TemperatureK) Draw(Random random)
    {
        SteelComposition steel;
        do
        {
            Dictionary<string, double> content = new() { ["C"] = 0.05 + 2.95 * random.NextDouble() };
            foreach ((string element, double most, double chance) in new[] { ("Cr", 18.0, 0.95), ("Mo", 10, 0.8), ("V", 12, 0.8), ("W", 18, 0.6), ("Mn", 3, 0.9), ("Si", 2, 0.9) })
                if (random.NextDouble() < chance) content[element] = 0.001 + most * Math.Pow(random.NextDouble(), 2);
            steel = SteelComposition.FromMassPercent(content);
        }
        while (steel["Fe"] < 50);
        return (steel, 973.15 + 600 * random.NextDouble());
    }

    // Every draw is solved from nothing; a draw without a certificate would throw. 20,000 draws run in bench/.
    [Fact]
    public void A_thousand_random_steels_all_have_a_certified_equilibrium()
    {
        Random random = new(20260101);
        (SteelComposition Steel, double TemperatureK)[] draws = [.. Enumerable.Range(0, 1000).Select(_ => Draw(random))];
        Parallel.For(0, draws.Length, i =>
        {
            (SteelComposition steel, double temperatureK) = draws[i];
            EquilibriumResult result = EquilibriumSolver.SolveOnce(steel, temperatureK);

            Assert.True(result.Certificate.IsValid, $"draw {i}: {steel} at {temperatureK - 273.15:0.0} C: {result.Certificate}");
            Assert.Equal(1, result.Phases.Sum(p => p.MoleFraction), 1e-10);
            Assert.All(result.Phases, p => Assert.Equal(100, p.Composition.Values.Sum(), 1e-8));
        });
    }

    // The certificate's own sample is one thing, a much denser one with other points is another: nothing may lie below the plane by more than rounding.
    [Fact]
    public void A_denser_independent_sample_finds_nothing_below_the_plane()
    {
        Random random = new(5);
        for (int i = 0; i < 40; i++)
        {
            (SteelComposition steel, double temperatureK) = Draw(random);
            EquilibriumSolver solver = EquilibriumSolver.For(steel);
            EquilibriumResult result = solver.Solve(steel, temperatureK);
            double lowest = DenseSearch.LowestDistanceJPerMol(solver, steel, seed: 1000 + (ulong)i);

            Assert.True(lowest > -1e-4, $"{result}: a composition lies {lowest:R} J/mol below the plane");
        }
    }
}
