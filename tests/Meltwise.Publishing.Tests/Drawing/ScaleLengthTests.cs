using Meltwise.Publishing.Drawing;
using Xunit;

namespace Meltwise.Publishing.Tests.Drawing;

public sealed class ScaleLengthTests
{
    [Theory]
    [InlineData(100, 20, "20\u00A0µm")]
    [InlineData(143, 50, "50\u00A0µm")]
    [InlineData(28.6, 10, "10\u00A0µm")]
    [InlineData(2.1, 0.5, "0.5\u00A0µm")]
    [InlineData(4000, 1000, "1\u00A0mm")]
    public void The_bar_is_a_round_length_of_a_fifth_to_a_third_of_the_picture(double widthUm, double lengthUm, string label)
    {
        Assert.Equal(lengthUm, ScaleLength.Of(widthUm), 1e-9);
        Assert.Equal(label, ScaleLength.Label(ScaleLength.Of(widthUm)));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void A_picture_without_width_has_no_bar(double widthUm) => Assert.Throws<ArgumentOutOfRangeException>(() => ScaleLength.Of(widthUm));
}
