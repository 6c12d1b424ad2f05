using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed class PhaseTransitionsTests
{
    // Published: eutectoid temperature of Fe-Fe3C 727 C (Gustafson 1985; ASM handbook), within 2.
    [Fact]
    public void A1_of_carbon_steel_is_the_eutectoid_temperature() =>
        Assert.Equal(727, PhaseTransitions.A1(SteelComposition.Parse("C 0.4")).TemperatureC!.Value, 2.0);

    // Published: A3 of Fe-0.4C 790 C, handbook curve (from memory), within 8.
    [Fact]
    public void A3_of_carbon_steel_is_on_the_handbook_curve() =>
        Assert.Equal(790, PhaseTransitions.A3(SteelComposition.Parse("C 0.4")).TemperatureC!.Value, 8.0);

    // Published: carbon in austenite against cementite at 900 C is 1.23 (Chipman 1972, from memory); so Acm of 1.23 C is 900 C; 0.04 C is 12 K there.
    [Fact]
    public void Acm_of_carbon_steel_is_on_the_published_curve() =>
        Assert.Equal(900, PhaseTransitions.Acm(SteelComposition.Parse("C 1.23")).TemperatureC!.Value, 12.0);

    // Published: alpha/gamma transition of iron 912 C and gamma/delta 1394 C (Dinsdale, Calphad 15 (1991) 317), within 1.
    [Fact]
    public void Pure_iron_changes_where_published()
    {
        EquilibriumSweep sweep = EquilibriumSweep.Run(SteelComposition.FromMassPercent([]), 880 + 273.15, 1400 + 273.15, 20, TestContext.Current.CancellationToken);

        Assert.Equal([912.0, 912.0, 1394.0, 1394.0], sweep.Transitions.Select(t => t.TemperatureC), (a, b) => Math.Abs(a - b) <= 1);
    }

    [Fact]
    public void Questions_without_an_answer_say_why()
    {
        SteelComposition d2 = SteelComposition.Parse("C 1.55, Cr 11.8, Mo 0.8, V 0.8, Mn 0.35, Si 0.3");

        Assert.Contains("holds no liquid", PhaseTransitions.CarbideSolvus(d2.With("V", 9), PhaseNames.MC).Note, StringComparison.Ordinal);
        Assert.Null(PhaseTransitions.CarbideSolvus(SteelComposition.Parse("C 0.4"), PhaseNames.M6C).TemperatureK);
        Assert.Null(PhaseTransitions.Acm(SteelComposition.Parse("C 0.4")).TemperatureK);
    }

    [Fact]
    public void All_answers_of_one_sweep_are_those_asked_one_by_one()
    {
        SteelComposition steel = SteelComposition.Parse("C 0.4, Cr 5.2, Mo 1.3, V 1.0, Mn 0.4, Si 1.0");
        List<double> told = [];

        IReadOnlyList<TransitionAnswer> all = PhaseTransitions.All(steel, new ToldAtOnce(told.Add), TestContext.Current.CancellationToken);

        Assert.Equal(
            [PhaseTransitions.A1(steel), PhaseTransitions.A3(steel), PhaseTransitions.Acm(steel)], all.Take(3));
        Assert.Contains(PhaseTransitions.CarbideSolvus(steel, PhaseNames.MC), all);
        Assert.Equal(1, told[^1]);
        Assert.Equal(told.Order(), told);
    }

    [Fact]
    public void A_cancelled_question_stops() =>
        Assert.Throws<OperationCanceledException>(() => PhaseTransitions.All(SteelComposition.Parse("C 0.4"), null, new CancellationToken(canceled: true)));

    // The oracle file has MC in 0.2C-0.6V at 1000 C with 0.0001 of the atoms: it is gone a few degrees above.
    [Fact]
    public void The_solvus_of_a_carbide_lies_just_above_its_last_trace() =>
        Assert.InRange(PhaseTransitions.CarbideSolvus(SteelComposition.Parse("C 0.2, V 0.6"), PhaseNames.MC).TemperatureC!.Value, 1000, 1010);
}
