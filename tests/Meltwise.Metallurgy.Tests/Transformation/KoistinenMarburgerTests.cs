using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Metallurgy.Transformation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Transformation;

public sealed class KoistinenMarburgerTests
{
    // exp(-0.011 (Ms - Tq)) in percent, Koistinen and Marburger 1959, worked independently to the printed figure.
    [Theory]
    [InlineData(250, 20, "7.97")]
    [InlineData(250, -80, "2.65")]
    [InlineData(250, -196, "0.74")]
    [InlineData(200, 20, "13.81")]
    [InlineData(200, -80, "4.60")]
    [InlineData(200, -196, "1.28")]
    [InlineData(150, 20, "23.93")]
    [InlineData(150, -80, "7.97")]
    [InlineData(150, -196, "2.22")]
    [InlineData(100, 20, "41.48")]
    [InlineData(100, -80, "13.81")]
    [InlineData(100, -196, "3.85")]
    public void Fractions_of_the_1959_equation(double ms, double coldest, string percent) =>
        new Published(percent).Agrees(100 * KoistinenMarburger.AusteniteFraction(ms, coldest), $"Ms {ms}, {coldest} °C");

    [Fact] // A published page gives "about 15 %" for Ms 200 °C at 25 °C.
    public void About_15_percent_at_room_temperature_for_an_Ms_of_200() =>
        Assert.InRange(KoistinenMarburger.AusteniteFraction(200, 25), 0.14, 0.16);

    [Fact] // Oracles/property-chain, printed to 0.001; the martensite start it was worked from is printed to 0.1 °C.
    public void Agrees_with_the_independent_program_on_every_formula_and_steel()
    {
        foreach (JsonElement steel in WorkedValues.Block("martensiteStart").EnumerateArray())
            foreach (JsonProperty p in steel.GetProperty("retainedAt20C").EnumerateObject())
            {
                double ms = steel.GetProperty("celsius").GetProperty(p.Name).GetDouble();
                Assert.Equal(p.Value.GetDouble(), KoistinenMarburger.AusteniteFraction(ms, 20), 0.0008);
            }
    }

    [Fact]
    public void Above_the_martensite_start_all_of_it_stays_austenite() =>
        Assert.Equal(1, KoistinenMarburger.AusteniteFraction(150, 151));

    [Fact]
    public void The_coldest_temperature_counts_whatever_the_order()
    {
        MartensiteStartResult ms = MartensiteStart.Of(new() { C = 0.56, Cr = 6.3, Mo = 0.57, V = 0.23 });
        RetainedAustenite cold = KoistinenMarburger.After(ms, [20, -80, 20], 0.13);
        Assert.Equal(-80, cold.ColdestC);
        Assert.True(cold.OfMatrix < KoistinenMarburger.After(ms, [20], 0.13).OfMatrix);
        Assert.Equal(0.87 * cold.OfMatrix, cold.OfWhole, 1e-12);
        Assert.True(cold.OfMatrixLower < cold.OfMatrix && cold.OfMatrix < cold.OfMatrixUpper);
        Assert.Contains(cold.Notes, n => n.Contains("cold step", StringComparison.Ordinal));
    }

    [Fact] // Van Bohemen 2012 at 0.5 % C, no alloy, by hand: 0.0272 - 0.0198 (1 - e^-0.78) = 0.016477.
    public void Van_Bohemen_rate_worked_by_hand() =>
        Digits.Agree(0.016477, KoistinenMarburger.VanBohemenRatePerC(new() { C = 0.5 }), new(4), "rate");

    [Fact]
    public void No_temperature_is_refused_with_what_to_give() =>
        Assert.Contains("quenched to", Assert.Throws<ArgumentException>(() => KoistinenMarburger.After(MartensiteStart.Of(new() { C = 0.5 }), [], 0)).Message, StringComparison.Ordinal);
}
