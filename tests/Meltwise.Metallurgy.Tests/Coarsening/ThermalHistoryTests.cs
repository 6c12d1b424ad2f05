using Meltwise.Evidence;
using Meltwise.Metallurgy.Coarsening;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Coarsening;

public sealed class ThermalHistoryTests
{
    private static readonly RateAtTemperature[] s_rates =
        [new(1173.15, 1e-27), new(1273.15, 1e-26), new(1373.15, 6e-26), new(1448.15, 2e-25)];

    [Fact] // Hold at a tabulated temperature, by hand: r³ = r0³ + 3 x 6e-26 x 4 x 3600.
    public void A_hold_follows_the_cube_law()
    {
        CarbideGrowth growth = ThermalHistory.Grow(0.2e-6, [new("soak", 1100, 1100, 4)], s_rates, 3);
        Digits.Agree(Math.Cbrt(8e-21 + 3 * 6e-26 * 14400), growth.FinalRadiusM, new(9), "radius");
    }

    [Fact] // Independent integration: a million equal steps of the same ramp.
    public void A_ramp_equals_brute_force_integration()
    {
        double sum = 0;
        const int steps = 1_000_000;
        for (int i = 0; i < steps; i++)
        {
            double t = 1273.15 + 100 * (i + 0.5) / steps;
            sum += 1e-26 * Math.Pow(6, (1 / t - 1 / 1273.15) / (1 / 1373.15 - 1 / 1273.15)) * 3600 * 2 / steps;
        }
        Digits.Agree(Math.Cbrt(1e-21 + sum), ThermalHistory.Grow(1e-7, [new("ramp", 1000, 1100, 2)], s_rates, 1).FinalRadiusM, new(9), "radius after the ramp");
    }

    [Fact]
    public void Splitting_a_stretch_or_going_backwards_changes_nothing()
    {
        double whole = ThermalHistory.Grow(1e-7, [new("", 1000, 1100, 2)], s_rates, 1).FinalRadiusM;
        double halves = ThermalHistory.Grow(1e-7, [new("", 1000, 1050, 1), new("", 1050, 1100, 1)], s_rates, 1).FinalRadiusM;
        double back = ThermalHistory.Grow(1e-7, [new("", 1100, 1000, 2)], s_rates, 1).FinalRadiusM;
        Digits.Agree(whole, halves, new(9), "halves");
        Digits.Agree(whole, back, new(12), "backwards");
    }

    [Fact]
    public void Below_the_coldest_rate_nothing_grows_and_it_says_so()
    {
        CarbideGrowth heating = ThermalHistory.Grow(1e-7, [new("heating", 20, 900, 5)], s_rates, 1);
        Assert.Equal(1e-7, heating.FinalRadiusM, 1e-13);
        Assert.Contains(heating.Notes, n => n.StartsWith("heating: below 900", StringComparison.Ordinal));
    }

    [Fact]
    public void Hotter_than_the_rates_is_refused() =>
        Assert.Contains("above the hottest rate", Assert.Throws<ArgumentException>(() => ThermalHistory.Grow(1e-7, [new("soak", 1250, 1250, 1)], s_rates, 1)).Message, StringComparison.Ordinal);

    // Handbook table, from memory (order of magnitude): 50 µm 2e5, 100 µm 4e4, 200 µm 1e4, 500 µm 2e3 K/s.
    [Theory]
    [InlineData(50, 2e5)]
    [InlineData(100, 4e4)]
    [InlineData(200, 1e4)]
    [InlineData(500, 2e3)]
    public void Powder_cools_at_the_order_of_the_handbook(double micrometre, double rate) =>
        Assert.InRange(PowderSolidification.CoolingRateKS(micrometre * 1e-6) / rate, 0.79, 1.01);

    // Handbook table, from memory: 50 x rate^(-1/3): 0.1 K/s 110, 1000 K/s 5, 1e5 K/s 1 µm.
    [Theory]
    [InlineData(0.1, 108)]
    [InlineData(1e3, 5.0)]
    [InlineData(1e5, 1.08)]
    public void Arm_spacing(double rate, double micrometre) => Assert.Equal(micrometre, PowderSolidification.ArmSpacingM(rate) * 1e6, 0.5 * micrometre / 100);

    [Fact] // Geometry: a sphere of f λ³.
    public void One_particle_in_a_cell_has_the_right_volume()
    {
        double d = PowderSolidification.CarbideDiameterM(2e-6, 0.15);
        Digits.Agree(0.15 * 8e-18, Math.PI / 6 * d * d * d, new(12), "volume");
    }
}
