using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class TemperShiftTests
{
    private static readonly AlloyContent s_h13 = PublishedTemperCurve.All.First(c => c.Grade == "H13").Nominal;
    private static readonly HardeningTreatment s_twice = new(1010, [20], [new(537.8, 2), new(537.8, 2)]);

    // The table of the curve gives 53 HRC: its own steel must come out with it, whatever the chain says untempered.
    [Fact]
    public void The_steel_of_the_curve_gets_the_hardness_of_the_curve()
    {
        TemperShift shift = TemperShift.Of(s_twice, [s_h13], new EquilibriumSoak());
        double hrc = new HardnessChain(s_twice, shift.Hrc).Of(new EquilibriumSoak().Near(s_h13, s_twice.HardeningTemperatureK).Of(s_h13), ChainErrors.None).HardnessHrc;
        Assert.Equal(53, hrc, 1e-6);
        Assert.True(shift.IsTempered);
        Assert.Equal("tempered, by the published curve of H13", shift.Meaning);
    }

    [Fact]
    public void A_forecast_of_high_tempers_gives_the_hardness_of_the_curve()
    {
        EquilibriumResult result = EquilibriumSolver.SolveOnce(SteelComposition.Parse("C 0.4, Mn 0.35, Si 1.0, Cr 5.2, Mo 1.3, V 0.95"), 1010 + 273.15);
        HardeningForecastResult forecast = HardeningForecast.Of(result, [20], s_twice.Tempers);
        Assert.Equal(53, forecast.TemperedHrc!.Value, 0.05);
        Assert.Contains(forecast.Notes, n => n.Contains("published curve of H13", StringComparison.Ordinal));
        Assert.DoesNotContain(forecast.Notes, n => n.StartsWith("Untempered", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_curve_no_tempered_hardness_is_given_and_the_curves_held_are_named()
    {
        AlloyContent other = s_h13;
        other.C = 0.7;
        TemperShift shift = TemperShift.Of(s_twice, [s_h13, other], new EquilibriumSoak());
        Assert.False(shift.IsTempered);
        Assert.Equal(0, shift.Hrc);
        Assert.Equal("before secondary hardening", shift.Meaning);
        Assert.Contains(shift.Notes, n => n.StartsWith("No published temper curve fits", StringComparison.Ordinal) && n.Contains("M2, A2, H13, D2", StringComparison.Ordinal));
    }

    [Fact]
    public void One_high_temper_is_told_to_leave_untempered_martensite() =>
        Assert.Contains(TemperShift.Of(s_twice with { Tempers = [new(560, 2)] }, [s_h13], new EquilibriumSoak()).Notes, n => n.StartsWith("One high temper", StringComparison.Ordinal));
}
