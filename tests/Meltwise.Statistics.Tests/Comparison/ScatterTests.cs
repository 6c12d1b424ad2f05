using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Comparison;
using Xunit;

namespace Meltwise.Statistics.Tests.Comparison;

/// <summary>Ratio of scatters and Brown-Forsythe against Oracles/statistics/two_sample.json: R 4.2.2, 14 digits.</summary>
public sealed class ScatterTests
{
    private static readonly JsonElement s_sets = Oracle.Read("two_sample.json").GetProperty("sets");

    public static TheoryData<string> Sets => [.. s_sets.EnumerateObject().Select(s => s.Name)];

    [Theory]
    [MemberData(nameof(Sets))]
    public void Variance_ratio_agrees(string name)
    {
        JsonElement set = s_sets.GetProperty(name), expected = set.GetProperty("summary").GetProperty("variance_ratio");
        ScatterRatio ratio = ScatterRatio.Of(expected.Number("F"), set.Numbers("x").Length - 1, set.Numbers("y").Length - 1);
        double[] interval = expected.Numbers("ci95");
        Digits.Agree(Math.Sqrt(expected.Number("F")), ratio.Ratio, new(13), "ratio");
        Digits.Agree(Math.Sqrt(interval[0]), ratio.Lower, new(11), "lower limit");
        Digits.Agree(Math.Sqrt(interval[1]), ratio.Upper, new(11), "upper limit");
        Digits.Agree(expected.Number("p_two_sided"), ratio.PTwoSided, new(11), "p");
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Brown_Forsythe_agrees(string name)
    {
        JsonElement set = s_sets.GetProperty(name), expected = set.GetProperty("spread");
        (double f, double p) = BrownForsythe.Test(set.Numbers("x"), set.Numbers("y"))!.Value;
        // Where both lots have the same mean distance the true F is 0, and what is printed is rounding.
        if (expected.Number("brown_forsythe_F") < 1e-20) Assert.True(f < 1e-20);
        else Digits.Agree(expected.Number("brown_forsythe_F"), f, new(10), "F");
        Digits.Agree(expected.Number("p"), p, new(10), "p");
    }
}
