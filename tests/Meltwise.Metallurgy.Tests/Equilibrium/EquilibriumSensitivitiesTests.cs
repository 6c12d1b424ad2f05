using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

// Oracle: central differences of the equilibria themselves. Steps of 0.01 K and 1e-4 mass percent leave a truncation error of about 1e-6 relative;
// equilibria are repeatable to about 1e-12, which the step turns into 1e-8 absolute.
public sealed class EquilibriumSensitivitiesTests
{
    public static TheoryData<string, double> Steels => new()
    {
        { "C 1.55, Cr 11.8, Mo 0.8, V 0.8, Mn 0.35, Si 0.3", 1020 },
        { "C 0.85, Cr 4.15, Mo 5.0, V 1.9, W 6.2, Mn 0.3, Si 0.3", 1190 },
        { "C 1.05, Cr 17.0, Mo 0.5, Mn 0.5, Si 0.5", 1050 },
        { "C 0.95, Mn 1.1, Cr 0.5, W 0.5, V 0.1, Si 0.3", 780 },
        { "C 0.4, Si 0.3, Mn 0.7", 760 },
    };

    [Theory]
    [MemberData(nameof(Steels))]
    public void Derivatives_are_the_differences_of_equilibria(string composition, double celsius)
    {
        SteelComposition steel = SteelComposition.Parse(composition);
        EquilibriumSolver solver = EquilibriumSolver.For(steel);
        double kelvin = celsius + 273.15;
        EquilibriumResult at = solver.Solve(steel, kelvin);
        EquilibriumSensitivities sensitivities = solver.Sensitivities(at);

        Agree(sensitivities.ByTemperature, solver.Solve(steel, kelvin + 0.01, at), solver.Solve(steel, kelvin - 0.01, at), 0.02);
        foreach (string element in steel.Modelled.Skip(1))
            Agree(sensitivities.ByElement[element],
                solver.Solve(steel.With(element, steel[element] + 1e-4), kelvin, at), solver.Solve(steel.With(element, steel[element] - 1e-4), kelvin, at), 2e-4);
    }

    private static void Agree(EquilibriumDerivative derivative, EquilibriumResult up, EquilibriumResult down, double step)
    {
        foreach (PhaseDerivative d in derivative.Phases)
        {
            EquilibriumPhase a = up.Find(d.Name)!, b = down.Find(d.Name)!;
            void Near(double difference, double value, string what) =>
                Assert.True(Math.Abs(difference / step - value) <= 1e-6 + 2e-5 * Math.Abs(value), $"d({d.Name} {what})/d({derivative.Variable}): {value:R}, differences give {difference / step:R}");
            Near(a.MoleFraction - b.MoleFraction, d.MoleFraction, "mole fraction");
            Near(a.MassFraction - b.MassFraction, d.MassFraction, "mass fraction");
            Near(a.VolumeFraction - b.VolumeFraction, d.VolumeFraction, "volume fraction");
            Near(a.VolumeFractionMartensitic - b.VolumeFractionMartensitic, d.VolumeFractionMartensitic, "martensitic volume fraction");
            foreach ((string element, double value) in d.Composition) Near(a.Composition[element] - b.Composition[element], value, element);
        }
        foreach ((string element, double value) in derivative.ChemicalPotentialsJPerMol)
            Assert.Equal((up.ChemicalPotentialsJPerMol[element] - down.ChemicalPotentialsJPerMol[element]) / step, value, 1e-3 + 1e-5 * Math.Abs(value));
    }

    // Oracle: equilibrium-oracle.json has D2 with 1.55 and 1.60 C at 1020 C: austenite 0.561353 and 0.57852 C, 6.2826 and 6.13199 Cr. The mean of the slopes at both
    // ends times 0.05 differs from the difference only in the third order.
    [Fact]
    public void A_little_more_carbon_in_D2_does_what_an_independent_program_found()
    {
        SteelComposition steel = SteelComposition.Parse("C 1.55, Cr 11.8, Mo 0.8, V 0.8, Mn 0.35, Si 0.3"), richer = steel.With("C", 1.6);
        EquilibriumSolver solver = EquilibriumSolver.For(steel);
        PhaseDerivative first = solver.Sensitivities(solver.Solve(steel, 1293.15)).ByElement["C"].Austenite!;
        PhaseDerivative second = solver.Sensitivities(solver.Solve(richer, 1293.15)).ByElement["C"].Austenite!;

        Assert.Equal(0.57852 - 0.561353, 0.025 * (first.Composition["C"] + second.Composition["C"]), 3e-6);
        Assert.Equal(6.13199 - 6.2826, 0.025 * (first.Composition["Cr"] + second.Composition["Cr"]), 3e-5);
    }
}
