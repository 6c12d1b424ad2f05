using System.Text.Json;
using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Composition;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Coarsening;

public sealed class CoarseningRateTests
{
    private static readonly JsonDocument s_steels = JsonDocument.Parse(
        File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "property-chain", "coarsening-steels.json")));

    public static TheoryData<string, string> Examples()
    {
        TheoryData<string, string> data = [];
        foreach (JsonElement w in WorkedValues.Block("coarsening").EnumerateArray())
            if (s_steels.RootElement.TryGetProperty(w.GetProperty("composition").GetString()!, out _))
                data.Add(w.GetProperty("composition").GetString()!, w.GetProperty("carbide").GetString()!);
        return data;
    }

    // The independent program took one rounded volume for each carbide (cm³ for a mole of metal); ours mixes volumes over the metals, 0 to 2.3 % less.
    private static readonly Dictionary<string, double> s_oracleVolumeCm3 = new(StringComparer.Ordinal)
    {
        ["MC"] = 10.9,
        ["M7C3"] = 57.6 / 7,
        ["M23C6"] = 182.0 / 23,
        ["M6C"] = 51.5 / 6,
    };

    [Theory] // Oracles/property-chain: rate printed to three digits, shares to 0.001.
    [MemberData(nameof(Examples))]
    public void Rates_and_shares_agree_with_the_independent_program(string steel, string carbide)
    {
        JsonElement expected = WorkedValues.Block("coarsening").EnumerateArray()
            .Single(w => w.GetProperty("composition").GetString() == steel && w.GetProperty("carbide").GetString() == carbide);
        CoarseningRateResult actual = Rate(steel, carbide);
        double rate = actual.RateM3S * s_oracleVolumeCm3[carbide] * 1e-6 / CarbideVolumeM3(steel, carbide);
        Assert.Equal(1, rate / expected.GetProperty("K_m3_s").GetDouble(), 0.002);
        foreach (JsonProperty share in expected.GetProperty("resistanceShare").EnumerateObject())
            Assert.Equal(share.Value.GetDouble(), actual.ResistanceShare.GetValueOrDefault(share.Name), 0.0015);
        foreach (JsonProperty r in expected.GetProperty("radiusAfter_um").EnumerateObject())
        {
            string[] parts = r.Name.Split(' '); // "4 h from 0.05 um"
            double cube = Math.Pow(double.Parse(parts[3]) * 1e-6, 3) + rate * double.Parse(parts[0]) * 3600;
            Assert.Equal(r.Value.GetDouble(), Math.Cbrt(cube) * 1e6, 0.0003);
        }
    }

    [Fact]
    public void Seven_examples_are_compared() => Assert.Equal(7, Examples().Count);

    // Handbook estimate (order of magnitude): M7C3 coarsens much faster than MC because vanadium is scarce in austenite: MC stays finer.
    // Same steel family at 1100 °C and 1050 °C; the rate of M7C3, although 50 °C colder, is already above that of MC.
    [Fact]
    public void M7C3_outgrows_MC_and_chromium_and_vanadium_are_what_hold_them_back()
    {
        CoarseningRateResult m7c3 = Rate("D2", "M7C3"), mc = Rate("PM3V8Cr", "MC");
        Assert.True(m7c3.RateM3S > 2 * mc.RateM3S);
        Assert.Equal("Cr", m7c3.SlowestElement);
        Assert.Equal("V", mc.SlowestElement);
    }

    [Theory] // Brailsford and Wynblatt (1979), Voorhees and Glicksman (1984), digitised from memory, ±20 %.
    [InlineData(0, 1)]
    [InlineData(0.1, 1.7)]
    [InlineData(0.15, 1.9)]
    public void Volume_fraction_speeds_coarsening(double fraction, double factor) =>
        Assert.Equal(factor, CoarseningRate.VolumeFractionFactor(fraction), 1e-9);

    [Fact]
    public void An_element_of_the_carbide_missing_from_the_austenite_is_refused() =>
        Assert.Contains("V is in the MC", Assert.Throws<ArgumentException>(() =>
            CoarseningRate.Of(CarbideKind.MC, new() { V = 70, C = 16 }, new() { C = 0.4, Cr = 5 }, 1323)).Message, StringComparison.Ordinal);

    private static double CarbideVolumeM3(string steel, string carbide) => CarbideProperties.MolarVolumeM3(Enum.Parse<CarbideKind>(carbide),
        MetalFractions.Of(WorkedValues.Alloy(s_steels.RootElement.GetProperty(steel).GetProperty("phases").GetProperty(carbide))));

    private static CoarseningRateResult Rate(string steel, string carbide)
    {
        JsonElement s = s_steels.RootElement.GetProperty(steel), phases = s.GetProperty("phases");
        return CoarseningRate.Of(Enum.Parse<CarbideKind>(carbide), WorkedValues.Alloy(phases.GetProperty(carbide)),
            WorkedValues.Alloy(phases.GetProperty("austenite")), s.GetProperty("temperatureC").GetDouble() + 273.15);
    }
}
