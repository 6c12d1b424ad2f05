using System.Globalization;
using System.Text.Json;
using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

// Oracle: Oracles/equilibrium/equilibrium-oracle.json, within the tolerances it states.
public sealed class EquilibriumOracleTests
{
    private static readonly JsonElement s_file = EquilibriumFiles.Oracle("equilibrium-oracle.json");

    public static TheoryData<int> Cases => [.. Enumerable.Range(0, s_file.GetProperty("equilibria").GetArrayLength())];

    private static SteelComposition Steel(JsonElement oracle) => SteelComposition.FromMassPercent(
        oracle.GetProperty("overall_wt").EnumerateObject().Where(p => p.Name != "Fe").Select(p => new KeyValuePair<string, double>(p.Name, p.Value.GetDouble())));

    private static double Tolerance(string name) => s_file.GetProperty("tolerance").GetProperty(name).GetDouble();

    [Fact]
    public void All_42_cases_are_there() => Assert.Equal(42, Cases.Count);

    [Theory]
    [MemberData(nameof(Cases))]
    public void Equilibria_agree_with_the_oracle(int index)
    {
        JsonElement oracle = s_file.GetProperty("equilibria")[index];
        EquilibriumResult result = EquilibriumSolver.SolveOnce(Steel(oracle), oracle.GetProperty("temperature_C").GetDouble() + 273.15);
        string id = string.Create(CultureInfo.InvariantCulture, $"{oracle.GetProperty("id").GetString()} at {result.TemperatureC:0} C");

        JsonElement phases = oracle.GetProperty("phases");
        Assert.Equal(
            phases.EnumerateArray().Select(p => p.GetProperty("role").GetString()!).Order(StringComparer.Ordinal),
            result.Phases.Select(p => p.Name).Order(StringComparer.Ordinal));
        foreach (JsonElement expected in phases.EnumerateArray()) Agrees(id, expected, result.Find(expected.GetProperty("role").GetString()!)!);
        Near(id, "Gibbs energy", oracle.GetProperty("gibbsEnergy_J_per_mol_atoms").GetDouble(), result.GibbsEnergyJPerMol, Tolerance("gibbsEnergy_J_per_mol_atoms"));
        foreach (JsonProperty p in oracle.GetProperty("chemicalPotentials_J_per_mol").EnumerateObject())
            Near(id, "potential of " + p.Name, p.Value.GetDouble(), result.ChemicalPotentialsJPerMol[p.Name], Tolerance("chemicalPotentials_J_per_mol"));
        Assert.True(result.Certificate.IsValid);
    }

    private static void Agrees(string id, JsonElement expected, EquilibriumPhase phase)
    {
        string name = $"{id}, {phase.Name}";
        Near(name, "mole fraction", expected.GetProperty("moleFractionOfAtoms").GetDouble(), phase.MoleFraction, Tolerance("moleFraction"));
        Near(name, "mass fraction", expected.GetProperty("massFraction").GetDouble(), phase.MassFraction, Tolerance("moleFraction"));
        Near(name, "volume fraction", expected.GetProperty("volumeFraction_austeniticMatrix").GetDouble(), phase.VolumeFraction, Tolerance("volumeFraction"));
        Near(name, "volume fraction, martensitic", expected.GetProperty("volumeFraction_martensiticMatrix").GetDouble(), phase.VolumeFractionMartensitic, Tolerance("volumeFraction"));
        foreach (JsonProperty p in expected.GetProperty("composition_wt").EnumerateObject())
            Near(name, "mass percent of " + p.Name, p.Value.GetDouble(), phase.Composition[p.Name], Tolerance("composition_wt"));
        foreach (JsonProperty p in expected.GetProperty("siteFractions").EnumerateObject())
        {
            string[] parts = p.Name.Split(':');
            double site = phase.SiteFractions.Single(s => s.Sublattice == int.Parse(parts[0], CultureInfo.InvariantCulture) && s.Constituent == parts[1]).Fraction;
            Near(name, "site fraction " + p.Name, p.Value.GetDouble(), site, Tolerance("siteFractions"));
        }
    }

    private static void Near(string where, string what, double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs(actual - expected) <= tolerance, string.Create(CultureInfo.InvariantCulture, $"{where}, {what}: oracle {expected:R}, computed {actual:R}, tolerance {tolerance:R}"));
}
