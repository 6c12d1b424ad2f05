using Meltwise.Web.Page;
using Meltwise.Web.Settings;
using Xunit;

namespace Meltwise.Web.Tests.Page;

public sealed class WrittenTests
{
    private static readonly Written s_written = new(new MachineSettings());

    // JCGM 100:2008 (GUM), 7.2.6 (from memory): at most two significant digits of an uncertainty, and the estimate rounded consistently with it.
    [Theory]
    [InlineData(0.016, 3, "0.016")]
    [InlineData(0.02, 2, "0.02")]
    [InlineData(0.0849, 2, "0.08")]
    [InlineData(0.0008, 4, "0.0008")]
    [InlineData(0.0284, 2, "0.03")]
    [InlineData(6.0, 0, "6")]
    [InlineData(28.3, 0, "28")]
    [InlineData(0.004, 2, "0.004")]
    public void An_uncertainty_has_no_more_decimals_than_its_value_unless_nothing_would_be_left(double uncertainty, int decimals, string expected) =>
        Assert.Equal(expected, s_written.Uncertainty(uncertainty, decimals));

    [Theory]
    [InlineData("1.284", 3)]
    [InlineData("1,28", 2)]
    [InlineData("472", 0)]
    public void Decimals_are_counted_as_typed(string typed, int expected) => Assert.Equal(expected, Written.DecimalsOf(typed));

    [Fact]
    public void A_number_is_bound_to_its_unit() => Assert.Equal("a slope of −6.1\u00A0% over 0.8\u00A0HRC", Written.Bound("a slope of −6.1 % over 0.8 HRC"));
}
