using Meltwise.Metallurgy.Furnaces;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Furnaces;

/// <summary>Soak times of traces whose lines are known in closed form: where they cross the limits follows from the slopes alone, so that the expected figures are exact.</summary>
public sealed class FurnaceSoakTests
{
    // Heats at 10 °C/min from 930 to 1130 °C, holds to minute 40, cools at 50 °C/min.
    private static readonly double[] s_minutes = [0, 20, 40, 50], s_celsius = [930, 1130, 1130, 630];

    [Theory]
    [InlineData(10, 19, 40.2)]
    [InlineData(5, 19.5, 40.1)]
    [InlineData(20, 18, 40.4)]
    public void Both_ends_lie_where_the_lines_cross_the_lower_limit(double tolerance, double begins, double ends)
    {
        FurnaceSoak soak = FurnaceSoak.Of(s_minutes, s_celsius, 1130, tolerance);
        Assert.Equal(begins, soak.BeginsMin!.Value, 1e-9);
        Assert.Equal(ends, soak.EndsMin!.Value, 1e-9);
        Assert.Equal(ends - begins, soak.Minutes, 1e-9);
        Assert.Equal(soak.Minutes, soak.WithinMinutes, 1e-9);
        Assert.Equal((1, 1130, 0, false, false), (soak.Stretches, soak.ExtremeC, soak.OvershootC, soak.IsOvershot, soak.IsCutOff));
    }

    [Fact]
    public void Overshoot_is_flagged_beyond_the_tolerance_and_its_time_taken_off_what_lay_within()
    {
        // Rises at 10 °C/min to 1150 and falls at 10 °C/min to 1130: above 1140 from minute 1 to minute 3.
        FurnaceSoak soak = FurnaceSoak.Of([0, 2, 4, 30], [1130, 1150, 1130, 1130], 1130, 10);
        Assert.Equal((20, true, true), (soak.OvershootC, soak.IsOvershot, soak.IsCutOff));
        Assert.Equal(30, soak.Minutes, 1e-9);
        Assert.Equal(28, soak.WithinMinutes, 1e-9);
        Assert.False(FurnaceSoak.Of([0, 2, 4, 30], [1130, 1140, 1130, 1130], 1130, 10).IsOvershot);
    }

    [Fact]
    public void The_longest_of_several_stretches_is_the_soak()
    {
        // Two holds of 10 and 30 min at 560 °C, ramps of 100 °C/min from and to 460.
        double[] minutes = [0, 1, 11, 12, 13, 14, 44, 45], celsius = [460, 560, 560, 460, 460, 560, 560, 460];
        FurnaceSoak soak = FurnaceSoak.Of(minutes, celsius, 560, 5);
        Assert.Equal(2, soak.Stretches);
        Assert.Equal(30.1, soak.Minutes, 1e-9);
        Assert.Equal(13.95, soak.BeginsMin!.Value, 1e-9);
    }

    [Fact]
    public void A_preheat_ends_where_the_trace_goes_on_to_the_next_step()
    {
        // 10 °C/min to 850, held to minute 40, then 10 °C/min to 1130, held, and down again: at 850 ± 10 from minute 4 to minute 41.
        double[] minutes = [0, 5, 40, 68, 80, 85], celsius = [800, 850, 850, 1130, 1130, 630];
        FurnaceSoak preheat = FurnaceSoak.Of(minutes, celsius, 850, 10), hardening = FurnaceSoak.Of(minutes, celsius, 1130, 10);
        Assert.Equal((4.0, 41.0, 1130.0, 850.0, false), (Math.Round(preheat.BeginsMin!.Value, 9), Math.Round(preheat.EndsMin!.Value, 9), preheat.OtherStepAtC!.Value, preheat.ExtremeC, preheat.IsOvershot));
        // On the way down it passes 850 ± 10 once more, in 0.2 min.
        Assert.Equal(2, preheat.Stretches);
        Assert.Equal((67.0, 80.1), (Math.Round(hardening.BeginsMin!.Value, 9), Math.Round(hardening.EndsMin!.Value, 9)));
        Assert.Null(hardening.OtherStepAtC);
    }

    [Fact]
    public void A_cold_step_is_read_the_other_way_round()
    {
        FurnaceSoak soak = FurnaceSoak.Of([0, 10, 70, 80], [20, -80, -90, 20], -80, 5);
        Assert.Equal((-90, 10, true), (soak.ExtremeC, soak.OvershootC, soak.IsOvershot));
        // From -75 on the way down (9.5 min) to -75 on the way up (70 + 10·15/110 min).
        Assert.Equal(9.5, soak.BeginsMin!.Value, 1e-9);
        Assert.Equal(70 + (150 / 110.0), soak.EndsMin!.Value, 1e-9);
    }

    [Fact]
    public void What_never_came_to_temperature_has_no_soak()
    {
        FurnaceSoak soak = FurnaceSoak.Of([0, 10, 20], [800, 1100, 800], 1130, 10);
        Assert.Equal((null, 0, 0, -30), (soak.BeginsMin, soak.Minutes, soak.Stretches, soak.OvershootC));
    }

    [Fact]
    public void A_gap_in_the_soak_is_told_and_one_outside_it_is_not()
    {
        double[] minutes = [0, 1, 2, 3, 20, 21, 22, 23, 24];
        Assert.Equal(17, FurnaceSoak.Of(minutes, [1000, 1130, 1130, 1130, 1130, 1130, 1130, 1130, 1000], 1130, 10).GapMinutes);
        Assert.Null(FurnaceSoak.Of(minutes, [500, 500, 500, 500, 1000, 1130, 1130, 1130, 1130], 1130, 10).GapMinutes);
    }

    [Fact]
    public void Times_that_do_not_rise_and_single_readings_are_refused()
    {
        Assert.Throws<ArgumentException>(() => FurnaceSoak.Of([0, 0], [1, 2], 1, 1));
        Assert.Throws<ArgumentException>(() => FurnaceSoak.Of([0], [1], 1, 1));
        Assert.Throws<ArgumentException>(() => FurnaceSoak.Of([0, 1], [1, 2], 1, 0));
    }
}
