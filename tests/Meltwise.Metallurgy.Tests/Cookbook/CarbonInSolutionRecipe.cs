using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Cookbook;

public sealed class CarbonInSolutionRecipe
{
    [Fact]
    public void Carbon_in_solution_against_hardening_temperature()
    {
        List<string> csv = ["temperature [°C],D2 [wt% C],A2 [wt% C],M2 [wt% C],440C [wt% C]"];
        // recipe
        string[] steels =
        [
            "C 1.50, Cr 12.0, Mo 0.95, V 0.80, Mn 0.35, Si 0.35", // D2, middle of the range
            "C 1.00, Cr 5.1, Mo 1.15, V 0.33, Mn 0.70, Si 0.30",  // A2
            "C 0.83, Cr 4.1, Mo 5.0, V 2.0, W 6.1, Mn 0.28, Si 0.33", // M2, regular carbon
            "C 1.08, Cr 17.0, Mo 0.38, Mn 0.50, Si 0.50",         // 440C
        ];
        for (int celsius = 940; celsius <= 1220; celsius += 20)
        {
            string row = $"{celsius}";
            foreach (string steel in steels)
            {
                EquilibriumResult equilibrium = EquilibriumSolver.SolveOnce(SteelComposition.Parse(steel), celsius + 273.15);
                row += FormattableString.Invariant($",{equilibrium.Austenite!.Composition["C"]:0.000}");
            }
            csv.Add(row);
        }
        // end of recipe
        RecipePage.Verify("carbon-in-solution", "Carbon in solution against hardening temperature",
            "Carbon in the austenite at equilibrium for four standard grades at the middle of their ranges (limits from memory of ASTM A681, A600 and A276). Absolute values ±0.05 wt%; differences are firmer. "
            + "There is no liquid in the parameter set: the hottest rows of a steel may lie above its solidus.",
            csv);
    }
}
