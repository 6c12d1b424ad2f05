using System.Text.Json;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Sources;
using Meltwise.Statistics.Trend;
using Xunit;

namespace Meltwise.Statistics.Tests.Sources;

/// <summary>Reduced simulations against Oracles/judging/coverage.json: an independent program with its own generator. A rate holds when it lies within 3 combined Monte-Carlo errors.</summary>
public sealed class CoverageTests
{
    private const int Replicates = 4000;
    private const double WithinHeat = 0.12;
    private static readonly JsonElement s_oracle = Load();

    // Two given lots of 6 coupons, true slope -0.09 per HRC, 5 coupons a historical heat; the lots' hardness is wrong by 0.06 HRC, known as coupon error over 6.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Equal_hardness(int row)
    {
        JsonElement expected = s_oracle.GetProperty("equalHardness")[row];
        int heats = (int)expected.Number("heats"), covered = 0, used = 0;
        double spread = expected.Number("hardnessSd"), error = expected.Number("hardnessErrorOfHeatMean"), tau = expected.Number("heatSd"), difference = expected.Number("hardnessDifference");
        Random random = new(303);
        for (int r = 0; r < Replicates; r++)
        {
            List<TrendHeat> history = [];
            for (int h = 0; h < heats; h++)
            {
                double hrc = spread * Draw(random);
                double[] z = Coupons(random, 5, -0.09 * hrc + tau * Draw(random));
                double read = hrc + error * Draw(random);
                history.Add(new(0, read, 1, [new(5, z.Average(), Squares(z), read)]));
            }
            HeatTrend trend = HeatTrend.Fit(history, 1, new(error * error, heats * 4, 0))!;
            double[] candidate = Coupons(random, 6, -0.09 * difference / 2), reference = Coupons(random, 6, 0.09 * difference / 2);
            if (trend.Attenuation < 0.5) continue;
            double seen = difference + 0.06 * Math.Sqrt(2) * Draw(random);
            ContrastEstimate estimate = ContrastEstimate.FromParts(candidate.Average() - reference.Average() - trend.Slope * seen,
            [
                new("candidate", Squares(candidate) / 5 / 6, 5), new("reference", Squares(reference) / 5 / 6, 5),
                new("slope", seen * seen * trend.SlopeSe * trend.SlopeSe, trend.DegreesOfFreedom), new("hardness", 2 * trend.Slope * trend.Slope * 0.06 * 0.06, heats * 4),
            ]);
            used++;
            if (Covers(estimate, 0)) covered++;
        }
        Holds(expected.GetProperty("errorsInVariables").GetProperty("cover95"), covered, used);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void One_heat_of_a_newcomer_against_many_of_the_incumbent(int row)
    {
        JsonElement expected = s_oracle.GetProperty("newcomer")[row];
        int covered = 0;
        Random random = new(404);
        for (int r = 0; r < Replicates; r++)
        {
            List<SourceHeat> heats = [Heat(random, 0, true, 5, expected.Number("heatSd"))];
            for (int h = 0; h < (int)expected.Number("heatsOfOldSource"); h++) heats.Add(Heat(random, 1, h == 0, 5, expected.Number("heatSd")));
            if (Covers(SourceContrast.Fit(heats, 2, 0, 1, null)!.Estimate, 0)) covered++;
        }
        Holds(expected.GetProperty("cover95"), covered, Replicates);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Several_heats_of_each_source(int row)
    {
        JsonElement expected = s_oracle.GetProperty("severalHeats")[row];
        int covered = 0;
        Random random = new(405);
        for (int r = 0; r < Replicates; r++)
        {
            List<SourceHeat> heats = [];
            for (int h = 0; h < 2 * (int)expected.Number("heatsPerSource"); h++) heats.Add(Heat(random, h % 2, true, (int)expected.Number("couponsPerHeat"), expected.Number("heatSd")));
            if (Covers(SourceContrast.Fit(heats, 2, 0, 1, null)!.Estimate, 0)) covered++;
        }
        Holds(expected.GetProperty("heatsRandom").GetProperty("cover95"), covered, Replicates);
    }

    // Six coupons a lot in two loads that differ by 10 %: compared within loads, the error rates are those without any load effect.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Within_furnace_loads(int row)
    {
        JsonElement expected = s_oracle.GetProperty("loads")[row];
        double low = Math.Log(0.8), high = Math.Log(1.25), truth = Math.Log(expected.Number("trueRatio"));
        int agreed = 0, excluded = 0;
        Random random = new(707);
        bool[] candidate = [true, true, true, false, false, false, true, true, true, false, false, false];
        int[] load = [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1];
        for (int r = 0; r < Replicates; r++)
        {
            double[] shift = [0.10 * Draw(random), 0.10 * Draw(random)], z = new double[12];
            for (int i = 0; i < 12; i++) z[i] = shift[load[i]] + WithinHeat * Draw(random) + (candidate[i] ? truth : 0);
            ContrastEstimate estimate = WithinLoadContrast.Fit(z, candidate, load, 2)!.Own;
            if (estimate.PEquivalence(low, high) < 0.05) agreed++;
            if (estimate.PDifference < 0.05) excluded++;
        }
        Holds(expected.GetProperty("anyEquivalent"), agreed, Replicates);
        Holds(expected.GetProperty("excludes1"), excluded, Replicates);
    }

    private static bool Covers(ContrastEstimate estimate, double truth)
    {
        (double lower, double upper) = estimate.Interval(0.95);
        return lower <= truth && truth <= upper;
    }

    private static void Holds(JsonElement rate, int count, int of)
    {
        double[] expected = rate.Numbers();
        double seen = (double)count / of, allowed = 3 * Math.Sqrt(expected[1] * expected[1] + Math.Max(expected[0] * (1 - expected[0]), 1e-3) / of);
        Assert.True(Math.Abs(seen - expected[0]) <= allowed, $"{expected[0]} expected, {seen} seen in {of}, {allowed} allowed");
    }

    private static SourceHeat Heat(Random random, int source, bool enquiry, int n, double tau)
    {
        double[] z = Coupons(random, n, tau * Draw(random));
        return new(source, enquiry, n, z.Average(), Squares(z), 62);
    }

    private static double[] Coupons(Random random, int n, double mean) => [.. Enumerable.Range(0, n).Select(_ => mean + WithinHeat * Draw(random))];

    private static double Squares(double[] x)
    {
        double mean = x.Average();
        return x.Sum(v => (v - mean) * (v - mean));
    }

    private static double Draw(Random random) => Normal.Quantile(1 - random.NextDouble());

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Oracles", "judging", "coverage.json")));
        return document.RootElement.Clone();
    }
}
