using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class FigureNumbersTests
{
    [Theory]
    [InlineData(127308, "127\u202F000")]
    [InlineData(96372, "96\u202F400")]
    [InlineData(9637.2, "9637")]
    [InlineData(40.31, "40.3")]
    [InlineData(-12345, "−12\u202F300")]
    public void Large_values_keep_three_digits_that_count(double value, string expected) => Assert.Equal(expected, FigureNumbers.Value(value));

    [Theory]
    [InlineData(0.004, 2, "0.00")]
    [InlineData(-0.004, 2, "0.00")]
    [InlineData(0.36, 2, "+0.36")]
    [InlineData(-0.14, 2, "−0.14")]
    public void What_rounds_to_zero_carries_no_sign(double value, int decimals, string expected) => Assert.Equal(expected, FigureNumbers.Signed(value, decimals));
}
