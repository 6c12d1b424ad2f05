using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Domain.Tests;

public sealed class PropertyTableTests
{
    // The foot-pound force from its definition: foot 0.3048 m and pound 0.45359237 kg (international yard and pound agreement, 1959),
    // standard gravity 9.80665 m/s² (CGPM 1901). Exact in decimals; the double must round to it.
    [Fact]
    public void A_foot_pound_is_what_its_definition_makes_it() =>
        Digits.Agree((double)(0.3048m * 0.45359237m * 9.80665m), PropertyTable.JoulesPerFootPound, new(15.5), "1 ft·lbf in J");

    [Theory]
    [InlineData("ft-lbf")]
    [InlineData("ft.lbf")]
    [InlineData("ft lb")]
    [InlineData("FT-LB")]
    [InlineData(" ft·lbf ")]
    public void Spellings_of_the_command_contract_are_one_unit(string spelling) =>
        Assert.Equal("ft·lbf", PropertyTable.ImpactEnergy.FindUnit(spelling)?.Name);

    [Fact]
    public void An_unknown_unit_is_named_with_the_known_ones()
    {
        ArgumentException refused = Assert.Throws<ArgumentException>(() => PropertyTable.ImpactEnergy.Convert(5, "kcal", "J"));
        Assert.Contains("kcal", refused.Message, StringComparison.Ordinal);
        Assert.Contains("ft·lbf", refused.Message, StringComparison.Ordinal);
    }

    // Scale and direction by the command contract's table of properties.
    [Theory]
    [InlineData("impact energy", PropertyScale.Logarithmic, GoodDirection.Higher)]
    [InlineData("wear loss", PropertyScale.Logarithmic, GoodDirection.Lower)]
    [InlineData("hardness", PropertyScale.Linear, GoodDirection.None)]
    [InlineData("carbide size", PropertyScale.Logarithmic, GoodDirection.None)]
    public void The_property_fixes_scale_and_direction(string name, PropertyScale scale, GoodDirection better)
    {
        Property property = PropertyTable.Find(name)!;
        Assert.Equal(scale, property.Scale);
        Assert.Equal(better, property.Better);
    }
}
