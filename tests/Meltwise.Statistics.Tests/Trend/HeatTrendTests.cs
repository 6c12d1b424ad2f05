using Meltwise.Evidence;
using Meltwise.Statistics.Trend;
using Xunit;

namespace Meltwise.Statistics.Tests.Trend;

/// <summary>Laws of the trend; its numbers are held by the verdict's oracle cases and by RandomHeatModelTests.</summary>
public sealed class HeatTrendTests
{
    // Deterministic heats on a line with a little scatter: -0.09 per HRC.
    private static List<TrendHeat> Heats(int count, double spread = 0.25)
    {
        List<TrendHeat> heats = [];
        for (int i = 0; i < count; i++)
        {
            double hrc = 60 + spread * i, wobble = 0.02 * Math.Sin(5.0 * i), z = 3.7 - 0.09 * (hrc - 62) + wobble;
            heats.Add(new(i % 2, hrc, 4, [new(4, z, 0.03, hrc)]));
        }
        return heats;
    }

    [Fact]
    public void Exact_hardness_needs_no_correction()
    {
        HeatTrend trend = HeatTrend.Fit(Heats(14), 2, new(0, 10, 0))!;
        Assert.Equal(1, trend.Attenuation);
        Assert.Equal(trend.SlopeUncorrected, trend.Slope);
        Assert.Equal(11, trend.DegreesOfFreedom);
        Assert.InRange(trend.Slope, -0.10, -0.08);
    }

    [Fact]
    public void Error_in_hardness_steepens_the_slope_and_widens_it()
    {
        HeatTrend exact = HeatTrend.Fit(Heats(14), 1, new(0, 10, 0))!, noisy = HeatTrend.Fit(Heats(14), 1, new(0.09, 10, 0.2))!;
        Assert.True(noisy.Attenuation < 1);
        Assert.True(Math.Abs(noisy.Slope) > Math.Abs(exact.Slope));
        Assert.True(noisy.SlopeSe > exact.SlopeSe);
    }

    // Handbook table check_values, regression dilution: heats of equal weight, spread 0.5 HRC and error 0.3 give 0.735; 0.5 and 0.15 give 0.917.
    // The reliability here is the classical one seen from the other side: S_xx holds the error, so λ = 1 - u²/(σ² + u²).
    [Theory]
    [InlineData(0.5, 0.3, "0.7352941176470588")]
    [InlineData(0.5, 0.15, "0.9174311926605504")]
    [InlineData(0.3, 0.3, "0.5")]
    public void Dilution_of_the_handbook(double trueSpread, double error, string expected)
    {
        double observed = Math.Sqrt(trueSpread * trueSpread + error * error);
        List<TrendHeat> heats = [];
        for (int i = 0; i < 20; i++)
        {
            // Ten pairs of heats at ± the observed spread, so that the mean square about the mean is its square exactly, and no scatter of z that hardness could take up.
            double hrc = 62 + (i % 2 == 0 ? observed : -observed), z = 3.7 - 0.09 * (hrc - 62) + 0.05 * Math.Cos(i / 2 * Math.PI);
            heats.Add(new(0, hrc, 1, [new(3, z, 0.02, hrc)]));
        }
        HeatTrend trend = HeatTrend.Fit(heats, 1, new(error * error, 40, 0))!;
        // Equal weights: Σw·u²(1 - w/W)/S_xx = (m - 1)/m·u²/observed².
        Assert.Equal(double.Parse(expected, System.Globalization.CultureInfo.InvariantCulture), 1 - (1 - trend.Attenuation) * 20 / 19, 1e-9);
    }

    [Fact]
    public void Too_few_heats_give_no_trend()
    {
        Assert.Null(HeatTrend.Fit(Heats(7), 1, new(0.04, 10, 0)));
        Assert.Equal(1, HeatTrend.Fit(Heats(8), 2, new(0.04, 10, 0))!.Sources);
    }

    [Fact]
    public void Hardness_that_does_not_vary_gives_no_trend() => Assert.Null(HeatTrend.Fit(Heats(12, 0), 1, new(0.04, 10, 0)));

    [Fact]
    public void A_curve_is_noticed()
    {
        List<TrendHeat> bent = [.. Heats(16).Select(h => new TrendHeat(h.Source, h.MeanHardness, 4, [new(4, h.Mean - 0.2 * Math.Pow(h.MeanHardness - 62, 2), 0.03, h.MeanHardness)]))];
        Assert.True(Math.Abs(HeatTrend.Fit(bent, 1, new(0, 10, 0))!.CurvatureT!.Value) > 3);
        Assert.True(Math.Abs(HeatTrend.Fit(Heats(16), 1, new(0, 10, 0))!.CurvatureT!.Value) < 3);
    }

    // Heats with a steep ladder of treatments within them and a flat trend between: each slope is found for what it is.
    [Fact]
    public void Slope_between_heats_and_slope_between_treatments_are_kept_apart()
    {
        List<TrendHeat> heats = [];
        for (int i = 0; i < 12; i++)
        {
            double hrc = 60 + 0.3 * i, z = 3.7 - 0.05 * (hrc - 62) + 0.01 * Math.Sin(3.0 * i);
            heats.Add(new(0, hrc, 9, [.. new[] { -1.0, 0, 1 }.Select(d => new TrendGroup(3, z - 0.15 * d + 0.002 * Math.Cos(7 * d + i), 0.01, hrc + d))]));
        }
        HeatTrend trend = HeatTrend.Fit(heats, 1, new(0, 50, 0))!;
        TreatmentLadder ladder = TreatmentLadder.Fit(heats)!;
        Assert.Equal(-0.05, trend.Slope, 0.01);
        Assert.Equal(-0.15, ladder.Slope, 0.005);
        Assert.True(ladder.IsLadder);
        Assert.True(ladder.PEqual(trend) < 0.001);
        Digits.Agree(23, ladder.DegreesOfFreedom, new(12), "degrees of freedom: 36 treatments less 12 heats less 1");
    }

    // Twelve heats at three treatments whose means scatter about the lines more than the coupons do: the second variance takes it up, and the slope between heats is less certain than with one variance.
    [Fact]
    public void Scatter_of_treatments_within_heats_is_a_variance_of_its_own()
    {
        List<TrendHeat> With(bool readings)
        {
            List<TrendHeat> heats = [];
            for (int i = 0; i < 12; i++)
            {
                double hrc = 60 + 0.3 * i;
                List<TrendGroup> groups = [];
                for (int t = -1; t <= 1; t++)
                {
                    double mean = 3.7 - 0.05 * (hrc - 62) - 0.15 * t + 0.08 * Math.Sin(7.0 * i + 3.0 * t), step = 0.02;
                    double[] z = [mean - step, mean, mean + step];
                    groups.Add(new(3, mean, 2 * step * step, hrc + t, readings ? z : null));
                }
                heats.Add(new(0, hrc, 9, groups));
            }
            return heats;
        }

        HeatTrend one = HeatTrend.Fit(With(readings: false), 1, new(0, 50, 0))!, two = HeatTrend.Fit(With(readings: true), 1, new(0, 50, 0))!;
        Assert.Null(one.TreatmentVariance);
        Assert.InRange(Math.Sqrt(two.TreatmentVariance!.Value), 0.03, 0.09);
        Digits.Agree(0.02 * 0.02, two.ResidualVariance, new(6), "scatter within treatments");
        Assert.True(two.ResidualVariance < one.ResidualVariance);
    }
}
