using Meltwise.Evidence;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class ChemistrySelectionTests
{
    [Fact] // Common practice, no source: spark carbon depends on the carbide state, so combustion is preferred.
    public void Combustion_carbon_is_preferred_to_spark_and_a_disagreement_is_flagged()
    {
        HeatChemistry heat = ChemistrySelection.Of("K17", [new("C", 1.42, false, AnalyticalMethod.SparkEmission, "a"), new("C", 1.55, false, AnalyticalMethod.Combustion, "b")]);
        ElementContent carbon = heat["C"]!;
        Assert.Equal(1.55, carbon.MassPercent);
        Assert.Equal(AnalyticalMethod.Combustion, carbon.Method);
        Assert.Contains("they disagree by", Assert.Single(carbon.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void Fusion_for_oxygen_and_an_own_analysis_before_a_certificate()
    {
        HeatChemistry heat = ChemistrySelection.Of("K17",
        [
            new("O", 0.0058, false, AnalyticalMethod.Certificate), new("O", 0.0060, false, AnalyticalMethod.InertGasFusion),
            new("Cr", 4.1, false, AnalyticalMethod.Certificate), new("Cr", 4.12, false, AnalyticalMethod.SparkEmission), new("Cr", 4.11, false, AnalyticalMethod.XRayFluorescence),
        ]);
        Assert.Equal(AnalyticalMethod.InertGasFusion, heat["O"]!.Method);
        Assert.Equal(AnalyticalMethod.XRayFluorescence, heat["Cr"]!.Method);
        Assert.Equal([AnalyticalMethod.SparkEmission, AnalyticalMethod.Certificate], heat["Cr"]!.AgreesWith);
        Assert.Equal(["preferred inert-gas fusion to certificate for O; X-ray fluorescence to spark emission and certificate for Cr. They agree."], ChemistrySelection.NotesOf(heat));
        Assert.Equal(["O"], heat.LeftOut);
    }

    [Fact] // By hand: mean of 1.50, 1.52, 1.54 with a stated 0.01 each; repeatability falls with the root of 3, bias stays.
    public void Repeats_by_one_method_are_averaged()
    {
        ElementContent one = ChemistrySelection.Of("A", [new("C", 1.52, false, AnalyticalMethod.Combustion, "a", 0.01)])["C"]!;
        ElementContent three = ChemistrySelection.Of("A", [.. new[] { 1.50, 1.52, 1.54 }.Select(v => new ChemistryResult("C", v, false, AnalyticalMethod.Combustion, "a", 0.01))])["C"]!;
        Digits.Agree(1.52, three.MassPercent, new(14), "mean");
        Digits.Agree(one.Uncertainty.Repeatability / Math.Sqrt(3), three.Uncertainty.Repeatability, new(12), "repeatability");
        Digits.Agree(one.Uncertainty.Bias, three.Uncertainty.Bias, new(12), "bias");
        Digits.Agree(0.01, one.Uncertainty.Total, new(12), "a stated uncertainty keeps its total");
        Assert.False(three.UncertaintyIsDefault);
    }

    [Fact]
    public void A_content_below_the_limit_stays_censored_and_a_value_goes_before_a_limit()
    {
        ElementContent nickel = ChemistrySelection.Of("A", [new("Ni", 0.05, true, AnalyticalMethod.XRayFluorescence)])["Ni"]!;
        Assert.Equal(0.05, nickel.LimitMassPercent);
        Assert.Contains("from 0 to the limit", Assert.Single(nickel.Notes), StringComparison.Ordinal);
        ElementContent both = ChemistrySelection.Of("A", [new("Ni", 0.05, true, AnalyticalMethod.XRayFluorescence), new("Ni", 0.03, false, AnalyticalMethod.XRayFluorescence)])["Ni"]!;
        Assert.Equal(0.03, both.MassPercent);
        Assert.Null(both.LimitMassPercent);
    }

    [Fact] // A draw of a censored content is uniform from 0 to the limit: mean half, standard deviation limit / √12 (closed formula; 4000 draws).
    public void Draws_of_a_censored_content_fill_the_range_evenly()
    {
        HeatChemistry a = ChemistrySelection.Of("A", [new("C", 1.5, false, AnalyticalMethod.Combustion), new("Ni", 0.12, true, AnalyticalMethod.XRayFluorescence)]);
        ChemistryDraws draws = new(a, a);
        double[] nickel = [.. Enumerable.Range(0, 4000).Select(i =>
        {
            DrawStream stream = new(7, i);
            return draws.Draw(ref stream).Reference.Ni;
        })];
        Assert.InRange(nickel.Min(), 0, 0.001);
        Assert.InRange(nickel.Max(), 0.119, 0.12);
        Assert.Equal(0.06, nickel.Average(), 0.002);
        Assert.Equal(0.12 / Math.Sqrt(12), Math.Sqrt(nickel.Average(v => (v - 0.06) * (v - 0.06))), 0.002);
    }

    // Reproducibility R is 2.8 standard deviations. Orders of magnitude, from memory: C 1.5 %: s_r 0.005-0.01, R 0.03-0.05; O 50 ppm: s_r 2-4 ppm, R 10-20 ppm; spark Cr 12 %: R about 0.15... 0.3.
    [Theory]
    [InlineData("C", AnalyticalMethod.Combustion, 1.5, 0.005, 0.010, 0.03, 0.05)]
    [InlineData("O", AnalyticalMethod.InertGasFusion, 0.0050, 0.0002, 0.0004, 0.0010, 0.0020)]
    [InlineData("N", AnalyticalMethod.InertGasFusion, 0.0500, 0.0003, 0.0010, 0.0020, 0.0040)]
    [InlineData("Cr", AnalyticalMethod.SparkEmission, 12, 0.02, 0.05, 0.15, 0.30)]
    [InlineData("V", AnalyticalMethod.SparkEmission, 4, 0.005, 0.02, 0.08, 0.12)]
    public void Default_uncertainties_are_of_the_known_order(string element, AnalyticalMethod method, double content, double repeatLow, double repeatHigh, double bigRLow, double bigRHigh)
    {
        UncertaintyParts parts = AnalyticalUncertainty.Default(element, method, content);
        Assert.InRange(parts.Repeatability, repeatLow, repeatHigh);
        Assert.InRange(2.8 * parts.Total, bigRLow, bigRHigh);
    }

    [Fact]
    public void A_typed_uncertainty_does_not_cancel_and_a_default_has_its_two_parts()
    {
        HeatChemistry heat = ChemistrySelection.Typed("A", [("C", 1.5, 0.02), ("Cr", 12, null)], "lab");
        Assert.Equal(new UncertaintyParts(0.02, 0), heat["C"]!.Uncertainty);
        Assert.False(heat["C"]!.UncertaintyIsDefault);
        Assert.True(heat["Cr"]!.Uncertainty.Bias > 0 && heat["Cr"]!.UncertaintyIsDefault);
    }

    [Theory]
    [InlineData("Xx", 1.0, "no such element")]
    [InlineData("Cr", 99.0, "less than 100")]
    [InlineData("C", 0.1, "two contents")]
    public void A_typed_composition_that_cannot_be_one_is_refused(string element, double massPercent, string says) =>
        Assert.Contains(says, Assert.Throws<SteelCompositionException>(() => ChemistrySelection.Typed("A", [("C", 1.5, null), (element, massPercent, null)])).Message, StringComparison.Ordinal);

    [Fact]
    public void Nonsense_is_refused_by_name()
    {
        Assert.Contains("K17: C is -1", Assert.Throws<ArgumentException>(() => ChemistrySelection.Of("K17", [new("C", -1, false, AnalyticalMethod.Combustion)])).Message, StringComparison.Ordinal);
        Assert.Contains("must be above 0", Assert.Throws<ArgumentException>(() => ChemistrySelection.Of("K17", [new("C", 1, false, AnalyticalMethod.Combustion, null, 0)])).Message, StringComparison.Ordinal);
    }
}
