using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Tolerance;
using Xunit;

namespace Meltwise.Statistics.Tests.Tolerance;

/// <summary>Oracles/statistics/tolerance_factors.json: exact factors in multiple precision; 12 to 14 digits.</summary>
public sealed class NormalToleranceTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("tolerance_factors.json");

    [Fact]
    public void One_sided_factors_agree()
    {
        foreach (JsonElement r in s_oracle.GetProperty("one_sided").EnumerateArray())
            Digits.Agree(r.Number("k"), NormalTolerance.OneSided((int)r.Number("n"), r.Number("coverage"), r.Number("confidence")), new(10), r.ToString());
    }

    [Fact]
    public void Two_sided_factors_agree()
    {
        foreach (JsonElement r in s_oracle.GetProperty("two_sided").EnumerateArray())
            Digits.Agree(r.Number("k"), NormalTolerance.TwoSided((int)r.Number("n"), r.Number("coverage"), r.Number("confidence")), new(10), r.ToString());
    }

    [Fact]
    public void Two_sided_factors_agree_with_extended_precision()
    {
        foreach (JsonElement r in s_oracle.GetProperty("two_sided_mpmath_check").EnumerateArray())
            Digits.Agree(r.Number("mpmath"), NormalTolerance.TwoSided((int)r.Number("n"), r.Number("coverage"), r.Number("confidence")), new(11), r.ToString());
    }

    // Odeh and Owen (1980), also ISO 16269-6, for n = 10 and 0.95/0.95 (from memory, reproduced in multiple precision).
    [Fact]
    public void As_printed()
    {
        new Published("2.911").Agrees(NormalTolerance.OneSided(10, 0.95, 0.95), "one-sided");
        new Published("3.393").Agrees(NormalTolerance.TwoSided(10, 0.95, 0.95), "two-sided");
    }

    [Fact]
    public void Prediction_of_the_mean_agrees()
    {
        foreach (JsonElement r in s_oracle.GetProperty("prediction").EnumerateArray())
        {
            string kind = r.Text("kind");
            if (kind.Contains("mean", StringComparison.Ordinal))
                Digits.Agree(r.Number("k"), NormalPrediction.MeanOf((int)r.Number("future"), (int)r.Number("n"), r.Number("confidence"), kind.StartsWith("two", StringComparison.Ordinal)), new(11), r.ToString());
        }
    }

    [Fact]
    public void Prediction_of_all_of_m_agrees()
    {
        foreach (JsonElement r in s_oracle.GetProperty("prediction_all_m_exact").EnumerateArray())
            Digits.Agree(r.Number("k"), NormalPrediction.AllOf((int)r.Number("future"), (int)r.Number("n"), r.Number("confidence")), new(8), r.ToString());
    }

    // Wilks (1941): the smallest of 59 is a 95/95 lower limit; smallest and largest of 93 hold 95 % with 95 %.
    [Fact]
    public void Distribution_free_numbers_as_printed()
    {
        Assert.Equal(59, DistributionFreeTolerance.CouponsNeeded(1, 0.95, 0.95));
        Assert.Equal(93, DistributionFreeTolerance.CouponsNeeded(2, 0.95, 0.95));
    }
}
