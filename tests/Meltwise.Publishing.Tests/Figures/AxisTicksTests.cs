using CsCheck;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class AxisTicksTests
{
    [Fact]
    public void Ticks_are_round_inside_the_limits_and_do_not_crowd()
    {
        Gen.Select(Gen.Double[1e-3, 1e3], Gen.Double[1.02, 1e4], Gen.Double[150, 900], Gen.Bool).Sample((low, factor, length, log) =>
        {
            Axis axis = new() { Scale = log ? AxisScale.Logarithmic : AxisScale.Linear, Min = low, Max = low * factor };
            IReadOnlyList<Tick> ticks = AxisTicks.Choose(axis, length, 40);
            Assert.NotEmpty(ticks);
            for (int i = 0; i < ticks.Count; i++)
            {
                Assert.InRange(axis.Fraction(ticks[i].Value), -1e-6, 1 + 1e-6);
                // Text and place agree: what is printed is where it stands.
                Assert.Equal(double.Parse(ticks[i].Text, System.Globalization.CultureInfo.InvariantCulture), ticks[i].Value, 1e-9 * Math.Max(1, axis.Max));
                if (i > 0)
                    Assert.True((axis.Fraction(ticks[i].Value) - axis.Fraction(ticks[i - 1].Value)) * length >= 39.9, $"crowded at {ticks[i].Text}");
            }
        }, iter: 2000);
    }

    [Fact]
    public void A_ratio_axis_always_shows_the_margin_and_one()
    {
        string[] texts = [.. AxisTicks.Ratio(0.7, 1.45, 0.87, 1.15).Select(t => t.Text)];
        Assert.Contains("0.87", texts);
        Assert.Contains("1.00", texts);
        Assert.Contains("1.15", texts);
    }

    [Fact]
    public void Minus_is_a_minus_sign_and_there_is_no_negative_zero()
    {
        Assert.Equal("−0.5", AxisTicks.Write(-0.5, 1));
        Assert.Equal("0.0", AxisTicks.Write(-0.01, 1));
    }
}
