using System.Text.Json;
using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Coarsening;

public sealed class DiffusivityTests
{
    [Fact] // Oracles/property-chain: three printed digits.
    public void Every_published_value_agrees_with_the_independent_program()
    {
        JsonElement[] expected = [.. WorkedValues.Block("diffusion").EnumerateArray()];
        Assert.Equal(expected.Length, Diffusivity.All.Count);
        for (int i = 0; i < expected.Length; i++)
            foreach (JsonProperty p in expected[i].GetProperty("D").EnumerateObject())
                Assert.Equal(1, Diffusivity.All[i].At(double.Parse(p.Name) + 273.15) / p.Value.GetDouble(), 0.006);
    }

    [Fact] // Ågren, Scripta Metall. 20 (1986) 1507, worked independently to four digits.
    public void Carbon_by_Agren()
    {
        foreach (JsonElement w in WorkedValues.Block("carbonDiffusion").EnumerateArray())
            Assert.Equal(1, Diffusivity.OfCarbon(w.GetProperty("yC").GetDouble(), w.GetProperty("T_C").GetDouble() + 273.15) / w.GetProperty("D_m2_s").GetDouble(), 0.001);
    }

    [Fact]
    public void Each_element_has_one_recommended_value_with_its_source()
    {
        foreach (IGrouping<string, PublishedDiffusivity> element in Diffusivity.All.GroupBy(d => d.Symbol))
            Assert.Single(element, d => d.Recommended);
        Assert.All(Diffusivity.All, d => Assert.NotEmpty(d.Source.Citation));
    }

    // Common knowledge of the trade, no source: carbon moves four to six powers of ten faster than the metals.
    [Fact]
    public void Carbon_outruns_the_metals() =>
        Assert.InRange(Math.Log10(Diffusivity.OfCarbon(0.03, 1373) / Diffusivity.Of("Cr", 1373)), 4, 6);

    [Fact]
    public void Outside_700_to_1300_degrees_and_for_an_unknown_element_it_refuses()
    {
        Assert.Throws<OutsideModelRangeException>(() => Diffusivity.Of("Cr", 800));
        Assert.Contains("Tabulated:", Assert.Throws<ArgumentException>(() => Diffusivity.Of("Zr", 1373)).Message, StringComparison.Ordinal);
    }
}
