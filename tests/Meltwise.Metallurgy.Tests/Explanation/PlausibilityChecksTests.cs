using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class PlausibilityChecksTests
{
    private static readonly HardeningForecastResult s_d2 =
        HardeningForecast.Of(EquilibriumSolver.SolveOnce(SteelComposition.Parse("C 1.5, Cr 12, Mo 0.8, V 0.9, Mn 0.3, Si 0.3"), 1293.15), [20], []);

    [Fact] // Scope of ASTM E1019 as read: V to 5.50 %, O 0.0005 to 0.03 %.
    public void Beyond_the_scope_of_the_standard_is_flagged()
    {
        IReadOnlyList<PlausibilityCheck> checks = PlausibilityChecks.OfChemistry(ChemistrySelection.Of("A",
            [new("C", 2.45, false, AnalyticalMethod.Combustion), new("V", 9.7, false, AnalyticalMethod.XRayFluorescence), new("O", 0.035, false, AnalyticalMethod.InertGasFusion)]));
        Assert.Equal(2, checks.Count(c => c.IsFlagged));
        Assert.Contains(checks, c => c.Text.Contains("350 ppm", StringComparison.Ordinal));
        Assert.Empty(PlausibilityChecks.OfChemistry(ChemistrySelection.Of("A", [new("C", 1.5, false, AnalyticalMethod.Combustion), new("V", 0.9, false, AnalyticalMethod.XRayFluorescence)])));
    }

    [Theory]
    [InlineData(84.0, false)]
    [InlineData(82.0, true)]
    public void A_sum_far_from_100_is_flagged(double iron, bool flagged)
    {
        IReadOnlyList<PlausibilityCheck> checks = PlausibilityChecks.OfChemistry(ChemistrySelection.Of("A",
            [new("C", 1.5, false, AnalyticalMethod.Combustion), new("Cr", 12, false, AnalyticalMethod.SparkEmission), new("Mo", 0.8, false, AnalyticalMethod.SparkEmission),
             new("V", 0.9, false, AnalyticalMethod.SparkEmission), new("Mn", 0.4, false, AnalyticalMethod.SparkEmission), new("Si", 0.4, false, AnalyticalMethod.SparkEmission), new("Fe", iron, false, AnalyticalMethod.SparkEmission)]));
        Assert.Equal(flagged, Assert.Single(checks).IsFlagged);
    }

    [Theory]
    [InlineData(0.13, 60.0, 0.10, 0)]
    [InlineData(0.20, 60.0, 0.10, 1)]
    [InlineData(0.13, 52.0, 0.10, 1)]
    [InlineData(0.13, 60.0, 0.60, 1)]
    public void Measurements_far_from_the_forecast_are_flagged(double carbide, double hrc, double austenite, int flags)
    {
        IReadOnlyList<PlausibilityCheck> checks = PlausibilityChecks.OfForecast(s_d2, new() { CarbideAreaFraction = carbide, HardnessHrc = hrc, RetainedAustenite = austenite }, 1.5);
        Assert.Equal(3, checks.Count);
        Assert.Equal(flags, checks.Count(c => c.IsFlagged));
    }

    [Fact]
    public void Nothing_measured_is_nothing_checked() => Assert.Empty(PlausibilityChecks.OfForecast(s_d2, new(), 1));
}
