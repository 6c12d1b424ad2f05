using Meltwise.Casework.Explaining;
using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Casework.Tests.Explaining;

public sealed class HeatOutlookDocumentTests
{
    private static readonly HeatChemistry s_d2 = ChemistrySelection.Typed("A", [("C", 1.5, null), ("Cr", 12.0, null), ("Mo", 0.8, null), ("V", 0.9, null), ("O", 0.005, null)]);

    // Handbook, calculated from stoichiometry and densities: 100 ppm oxygen as Al2O3 is 0.042 vol%, so 50 ppm is 0.021.
    [Fact]
    public void Oxides_bear_fraction_numbers_critical_flaw_and_chance_with_their_sources()
    {
        HeatOutlookDocument outlook = HeatOutlookDocument.Of(s_d2, new() { Coupons = 10 });
        OxideOutlook oxides = outlook.Oxides!;
        Assert.Equal(50, oxides.OxygenPpm, 1e-9);
        Assert.Equal(0.021, 100 * oxides.VolumeFraction, 0.0005);
        Assert.Equal(oxides.NumberAbove.OrderBy(n => n.DiameterUm), oxides.NumberAbove);
        Assert.Equal(oxides.NumberAbove.OrderByDescending(n => n.PerMm3), oxides.NumberAbove);
        Assert.All(oxides.NumberAbove, n => Assert.Equal(n.PerMm3 * oxides.StressedVolumeMm3, n.InStressedVolume, 1e-9 * n.InStressedVolume));
        Assert.Contains(oxides.NumberAbove, n => n.DiameterUm == oxides.CriticalDiameterUm);

        // Handbook table of critical sizes: 20 MPa√m and 4000 MPa give a √area of 32 µm inside, a circle of 36 µm.
        Assert.Equal(36, oxides.CriticalDiameterUm, 0.5);
        Assert.Equal(1 - Math.Pow(1 - oxides.ChanceOneCoupon, 10), oxides.ChanceAtLeastOne, 1e-9);
        Assert.Contains(outlook.Sources, s => s.StartsWith("Murakami", StringComparison.Ordinal));
        Assert.Empty(outlook.Carbides);
        Assert.Contains(outlook.Notes, n => n.StartsWith("No hot history", StringComparison.Ordinal));
    }

    // The bench's reference facts: vanadium-rich MC stays finer than chromium-rich M7C3 under one history.
    [Fact]
    public void Over_a_hot_history_MC_stays_finer_than_M7C3()
    {
        HeatChemistry steel = ChemistrySelection.Typed("A", [("C", 2.0, null), ("Cr", 12.0, null), ("Mo", 1.0, null), ("V", 4.0, null)]);
        HeatOutlookDocument outlook = HeatOutlookDocument.Of(steel, new() { History = [new("consolidation", 1130, 1130, 4)] });
        Assert.Null(outlook.Oxides);
        Assert.Equal(["M7C3", "MC"], outlook.Carbides.Select(c => c.Carbide));
        Assert.True(outlook.Carbides[0].FinalDiameterUm > 1.5 * outlook.Carbides[1].FinalDiameterUm);
        Assert.All(outlook.Carbides, c => Assert.True(c.LowerUm < c.FinalDiameterUm && c.FinalDiameterUm < c.UpperUm && c.HeldBackBy.Length > 0));
    }

    [Fact]
    public void A_history_that_cannot_be_computed_is_said_and_the_oxides_stay()
    {
        HeatOutlookDocument outlook = HeatOutlookDocument.Of(s_d2, new() { History = [new("soak", 1450, 1450, 1)] });
        Assert.NotNull(outlook.Oxides);
        Assert.Contains("1450 °C", outlook.Notes[0], StringComparison.Ordinal);
    }
}
