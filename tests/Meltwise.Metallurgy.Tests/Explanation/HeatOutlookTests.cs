using Meltwise.Evidence;
using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class HeatOutlookTests
{
    private static readonly HeatChemistry s_heat = Heat("M03", 0.0037);

    [Fact] // Made-up heat of D2 composition.
    public void Every_part_with_an_input_is_answered()
    {
        HeatOutlookResult outlook = HeatOutlook.Of(s_heat, new()
        {
            RouteOxygenPpm = [58, 44, 61, 52, 47, 39],
            History = [new("consolidation", 1150, 1150, 4)],
            PowderDiameterM = 150e-6,
            Coupons = 12,
        });
        Assert.Equal(0.37 * 0.0415, outlook.Oxygen!.Fraction.VolumePercent, 0.0001); // 37 ppm of what 0.0415 vol% is for 100
        Assert.Equal(0, outlook.OxygenRank!.HeatsWithLess);
        Assert.NotEmpty(outlook.Coarsening!.Carbides);
        Assert.Equal(outlook.CarbideAsFrozenM!.Value / 2, outlook.Coarsening.Carbides[0].Growth.InitialRadiusM, 1e-15);
        Assert.Contains(outlook.Notes, n => n.Contains("powder's cooling rate", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_not_known_is_said_and_not_assumed()
    {
        HeatOutlookResult outlook = HeatOutlook.Of(ChemistrySelection.Of("A", [new("C", 1.5, false, AnalyticalMethod.Combustion), new("O", 0.002, true, AnalyticalMethod.InertGasFusion)]), new());
        Assert.Null(outlook.Oxygen);
        Assert.Null(outlook.OxygenRank);
        Assert.Null(outlook.Coarsening);
        Assert.Equal(2, outlook.Notes.Count);
    }

    [Fact] // By hand: -21 ppm, repeatability 6 % of each, the bias shared but for its share of the content: 3.48, 2.22 and 9 % of 21.
    public void The_oxygen_difference_lets_the_shared_bias_cancel()
    {
        Interval difference = HeatOutlook.OxygenDifferencePpm(Heat("K17", 0.0058), s_heat)!.Value;
        Digits.Agree(-21, difference.Estimate, new(12), "difference");
        double sd = Math.Sqrt(3.48 * 3.48 + 2.22 * 2.22 + 1.89 * 1.89);
        Assert.Equal(1.959964 * sd, difference.HalfWidth, 0.01);
        Assert.Null(HeatOutlook.OxygenDifferencePpm(s_heat, ChemistrySelection.Of("A", [new("C", 1.5, false, AnalyticalMethod.Combustion)])));
    }

    private static HeatChemistry Heat(string name, double oxygen) => ChemistrySelection.Of(name,
    [
        new("C", 1.5, false, AnalyticalMethod.Combustion, "lab"), new("Cr", 12, false, AnalyticalMethod.SparkEmission, "lab"), new("Mo", 0.8, false, AnalyticalMethod.SparkEmission, "lab"),
        new("V", 0.9, false, AnalyticalMethod.SparkEmission, "lab"), new("O", oxygen, false, AnalyticalMethod.InertGasFusion, "lab"),
    ]);
}
