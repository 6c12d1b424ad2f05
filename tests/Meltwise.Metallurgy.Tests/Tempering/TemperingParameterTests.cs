using System.Text.Json;
using CsCheck;
using Meltwise.Evidence;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Tempering;

public sealed class TemperingParameterTests
{
    // Hollomon and Jaffe 1945 with c = 20, worked independently to the printed figure.
    [Theory]
    [InlineData(205, 2, "9706.9")]
    [InlineData(538, 2, "16467.2")]
    [InlineData(538, 4, "16711.4")]
    [InlineData(538, 6, "16854.2")]
    [InlineData(552, 4, "16999.8")]
    public void Single_tempers(double celsius, double hours, string parameter) =>
        new Published(parameter).Agrees(TemperingParameter.Of(new Temper(celsius, hours)), $"{celsius} °C {hours} h");

    [Fact]
    public void Agrees_with_the_independent_program()
    {
        foreach (JsonElement w in WorkedValues.Block("temperingParameter").EnumerateArray())
            Assert.Equal(w.GetProperty("P").GetDouble(), TemperingParameter.Of(new Temper(w.GetProperty("T_C").GetDouble(), w.GetProperty("h").GetDouble())), 0.051);
    }

    [Fact] // Two tempers of 2 h at one temperature are one of 4 h: the printed 16711.4.
    public void Equal_tempers_add_their_hours()
    {
        TemperEquivalence two = TemperingParameter.Of([new(538, 2), new(538, 2)]);
        new Published("16711.4").Agrees(two.Parameter, "twice 538 °C 2 h");
        Assert.Equal(4, two.SingleTemper.Hours, 1e-9);
        Assert.Contains(two.Notes, n => n.Contains("retained austenite", StringComparison.Ordinal));
    }

    [Fact]
    public void A_temper_equals_itself_at_any_other_temperature() => Gen.Select(Gen.Double[150, 600], Gen.Double[0.5, 50], Gen.Double[150, 600]).Sample((t, h, other) =>
    {
        double p = TemperingParameter.Of(new Temper(t, h));
        double hours = TemperingParameter.HoursAt(p, other);
        return Math.Abs(TemperingParameter.TemperatureAt(p, hours) - other) < 1e-6;
    });

    [Fact]
    public void Order_does_not_matter_and_a_low_temper_hardly_counts()
    {
        double a = TemperingParameter.Of([new(200, 2), new(540, 2)]).Parameter, b = TemperingParameter.Of([new(540, 2), new(200, 2)]).Parameter;
        Assert.Equal(a, b, 1e-9);
        Assert.Equal(TemperingParameter.Of(new Temper(540, 2)), a, 0.5);
    }

    [Theory]
    [InlineData(40, 2, "temper temperature")]
    [InlineData(900, 2, "temper temperature")]
    [InlineData(540, 0, "temper time")]
    [InlineData(540, double.NaN, "temper time")]
    public void Outside_the_range_is_refused(double celsius, double hours, string quantity) =>
        Assert.Equal(quantity, Assert.Throws<OutsideModelRangeException>(() => TemperingParameter.Of([new Temper(celsius, hours)])).Quantity);

    // Handbook rule, from memory: each 50 °C of low temper costs 1 to 1.5 HRC.
    [Fact]
    public void Low_tempers_cost_one_to_one_and_a_half_HRC_each_50_degrees()
    {
        double? at150 = TemperedHardness.LossHrc([new(150, 2)]), at200 = TemperedHardness.LossHrc([new(200, 2)]);
        Assert.InRange(at200!.Value - at150!.Value, 1, 1.5);
        Assert.Equal(0, TemperedHardness.LossHrc([]));
    }

    [Fact]
    public void No_hardness_law_is_given_in_the_trough_or_at_secondary_hardening()
    {
        Assert.Null(TemperedHardness.LossHrc([new(350, 2)]));
        Assert.Null(TemperedHardness.LossHrc([new(540, 2), new(540, 2)]));
        Assert.Equal(TemperRegion.High, TemperedHardness.Region([new(540, 2)]));
        Assert.Contains("secondary hardening", TemperedHardness.Note([new(540, 2)]), StringComparison.Ordinal);
    }
}
