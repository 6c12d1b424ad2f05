using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed class SteelCompositionTests
{
    [Fact]
    public void Iron_is_the_balance()
    {
        SteelComposition steel = SteelComposition.Parse("C 1.55, Cr 11.8; Mo=0.8, P 0.02, Cu 0.1 %");

        Assert.Equal(100 - 1.55 - 11.8 - 0.8 - 0.02 - 0.1, steel["Fe"], 12);
        Assert.Equal(["Fe", "C", "Cr", "Mo"], steel.Modelled);
        Assert.Equal(["P", "Cu"], steel.LeftOut);
        Assert.Equal(0, steel["V"]);
    }

    [Theory]
    [InlineData("C 1.5, Cr 98.6", "sum without Fe", "100.1")]
    [InlineData("C -0.1", "C", "-0.1")]
    [InlineData("C 1, Cr 12, C 1.1", "C", "two contents")]
    [InlineData("C 1, Xx 12", "Xx", "no such element")]
    [InlineData("C 1, cr 12", "cr", "no such element")]
    [InlineData("C 1, Cr", "Cr", "an entry that cannot be read")]
    [InlineData("C NaN", "C", "NaN")]
    [InlineData(" ", "composition", "nothing")]
    [InlineData("C 1, Fe 90", "Fe", "90")]
    public void What_cannot_be_a_composition_is_refused_by_name(string text, string element, string found)
    {
        SteelCompositionException fault = Assert.Throws<SteelCompositionException>(() => SteelComposition.Parse(text));

        Assert.Equal(element, fault.Element);
        Assert.Equal(found, fault.Found);
        Assert.NotEqual("", fault.Expected);
    }

    [Fact]
    public void A_stated_iron_content_may_be_the_balance() => Assert.Equal(99.0, SteelComposition.Parse("Fe 98.9, C 1").MassPercent["Fe"], 12);

    [Fact]
    public void A_changed_content_is_taken_from_iron() => Assert.Equal(98.5, SteelComposition.Parse("C 1, Mn 0.3").With("C", 1.2)["Fe"], 12);
}
