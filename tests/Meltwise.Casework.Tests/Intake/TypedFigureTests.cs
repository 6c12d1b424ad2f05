using Meltwise.Casework.Intake;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Intake;

public sealed class TypedFigureTests
{
    [Theory]
    [InlineData("61.0", DecimalSign.Point, 61.0, "61.0", "")]
    [InlineData("61,0", DecimalSign.Comma, 61.0, "61.0", "")]
    [InlineData("61,0", DecimalSign.Point, 61.0, "61.0", "")]
    [InlineData("1,234", DecimalSign.Comma, 1.234, "1.234", "")]
    [InlineData("0,234", DecimalSign.Point, 0.234, "0.234", "")]
    [InlineData("1,234.5", DecimalSign.Point, 1234.5, "1234.5", "")]
    [InlineData("1.234,5", DecimalSign.Comma, 1234.5, "1234.5", "")]
    [InlineData("1 234,5", DecimalSign.Comma, 1234.5, "1234.5", "")]
    [InlineData("12,345,678", DecimalSign.Point, 12345678, "12345678", "")]
    [InlineData("−3.5", DecimalSign.Point, -3.5, "-3.5", "")]
    [InlineData("+3.50", DecimalSign.Point, 3.5, "3.50", "")]
    [InlineData("1e-3", DecimalSign.Point, 0.001, "1e-3", "")]
    [InlineData("41.2 ft·lbf", DecimalSign.Point, 41.2, "41.2", "ft·lbf")]
    [InlineData("41 J", DecimalSign.Point, 41, "41", "J")]
    public void Figures_are_read_with_their_digits(string text, DecimalSign sign, double value, string typed, string unit)
    {
        Assert.True(TypedFigure.TryRead(text, sign, out Figure figure, out _));
        Assert.Equal((value, typed, unit, Censoring.None), (figure.Value, figure.Text, figure.Unit, figure.Censoring));
    }

    [Theory]
    [InlineData(">120", Censoring.Above, 120, ">120")]
    [InlineData("≥ 120", Censoring.Above, 120, ">120")]
    [InlineData("< 0,05", Censoring.Below, 0.05, "<0.05")]
    [InlineData("<=5", Censoring.Below, 5, "<5")]
    public void Bounds_are_bounds(string text, Censoring censoring, double value, string typed)
    {
        Assert.True(TypedFigure.TryRead(text, DecimalSign.Point, out Figure figure, out _));
        Assert.Equal((censoring, value, typed), (figure.Censoring, figure.Value, figure.Text));
    }

    [Theory]
    [InlineData("", "a figure")]
    [InlineData("sixty", "a figure")]
    [InlineData("~40", "a figure")]
    [InlineData("1.2.3", "a figure")]
    [InlineData("12,34,567", "a figure")]
    [InlineData("4 1", "a figure")]
    [InlineData("1 234.5 6", "a figure")]
    [InlineData("-", "a figure")]
    [InlineData("NaN", "a figure")]
    [InlineData("1e999", "a figure")]
    [InlineData("1,234", "thousands or decimals")]
    public void What_is_no_figure_is_refused(string text, string expected)
    {
        Assert.False(TypedFigure.TryRead(text, DecimalSign.Point, out _, out string why));
        Assert.Contains(expected, why, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("61,0|1.234", DecimalSign.Comma)]
    [InlineData("61.0|1,234", DecimalSign.Point)]
    [InlineData("1,234.5", DecimalSign.Point)]
    [InlineData("0,123", DecimalSign.Comma)]
    public void The_table_shows_its_decimal_sign(string cells, DecimalSign sign) => Assert.Equal(sign, TypedFigure.SignOf(cells.Split('|')));

    [Theory]
    [InlineData("61|1,234")]
    [InlineData("n.a.|x")]
    public void Where_nothing_tells_nothing_is_said(string cells) => Assert.Null(TypedFigure.SignOf(cells.Split('|')));
}
