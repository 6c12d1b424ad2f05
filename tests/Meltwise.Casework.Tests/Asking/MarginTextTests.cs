using CsCheck;
using Meltwise.Casework.Asking;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Asking;

/// <summary>Forms of the command contract for margins.</summary>
public sealed class MarginTextTests
{
    [Theory]
    [InlineData("15%", 1 / 1.15, 1.15)]
    [InlineData("15 %", 1 / 1.15, 1.15)]
    [InlineData("0.80..1.25", 0.80, 1.25)]
    [InlineData("0,80..1,25", 0.80, 1.25)]
    [InlineData("0.70 - 1.43", 0.70, 1.43)]
    public void A_ratio_is_read(string text, double low, double high)
    {
        Assert.True(MarginText.TryRead(text, PropertyTable.ImpactEnergy, out Margin? margin, out _));
        Margin.Ratio ratio = Assert.IsType<Margin.Ratio>(margin);
        Assert.Equal(low, ratio.Low, 1e-12);
        Assert.Equal(high, ratio.High, 1e-12);
    }

    [Theory]
    [InlineData("3 J", 3, "J")]
    [InlineData("±3 J", 3, "J")]
    [InlineData("+-3 J", 3, "J")]
    [InlineData("+/- 2.5 ft-lbf", 2.5, "ft·lbf")]
    public void A_difference_keeps_its_unit(string text, double value, string unit)
    {
        Assert.True(MarginText.TryRead(text, PropertyTable.ImpactEnergy, out Margin? margin, out _));
        Assert.Equal(new Margin.Absolute(value, unit), margin);
    }

    [Fact]
    public void Points_of_hardness_go_through_the_trend_except_for_hardness_itself()
    {
        Assert.True(MarginText.TryRead("1 HRC", PropertyTable.ImpactEnergy, out Margin? throughTrend, out _));
        Assert.Equal(new Margin.InHardness(1), throughTrend);
        Assert.True(MarginText.TryRead("1 HRC", PropertyTable.Hardness, out Margin? difference, out _));
        Assert.Equal(new Margin.Absolute(1, "HRC"), difference);
    }

    [Theory]
    [InlineData("")]
    [InlineData("15")]
    [InlineData("0%")]
    [InlineData("-15%")]
    [InlineData("1.10..1.25")]
    [InlineData("1.25..0.80")]
    [InlineData("3 kcal")]
    [InlineData("banana")]
    public void What_is_no_margin_is_named_with_the_forms(string text)
    {
        Assert.False(MarginText.TryRead(text, PropertyTable.ImpactEnergy, out Margin? margin, out string fault));
        Assert.Null(margin);
        Assert.NotEmpty(fault);
    }

    [Fact]
    public void A_ratio_for_a_property_compared_by_difference_is_refused() =>
        Assert.False(MarginText.TryRead("15%", PropertyTable.Hardness, out _, out _));

    [Fact]
    public void What_is_written_is_read_back() => Gen.Double[0.01, 500].Sample(value =>
    {
        Margin.Absolute margin = new(value, "J");
        Assert.True(MarginText.TryRead(MarginText.Write(margin), PropertyTable.ImpactEnergy, out Margin? back, out _));
        Assert.Equal(margin, back);
    });

    [Fact]
    public void Reading_never_throws() => Gen.String.Sample(text => { MarginText.TryRead(text, PropertyTable.ImpactEnergy, out _, out _); });
}
