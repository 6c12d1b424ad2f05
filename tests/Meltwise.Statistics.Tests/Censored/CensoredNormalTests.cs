using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Censored;
using Xunit;

namespace Meltwise.Statistics.Tests.Censored;

/// <summary>Oracles/judging/censored_normal.json: R's survival::survreg, gaussian, relative tolerance 1e-14. Asked for: 7 digits, because its convergence test is on the likelihood.</summary>
public sealed class CensoredNormalTests
{
    private static readonly JsonElement s_oracle = Load();

    public static TheoryData<string> Cases => [.. s_oracle.GetProperty("cases").EnumerateArray().Select(c => c.Text("name"))];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Estimates_agree(string name)
    {
        JsonElement sample = s_oracle.GetProperty("cases").EnumerateArray().First(c => c.Text("name") == name);
        Bound[] bounds = [.. sample.GetProperty("kind").EnumerateArray().Select(k => k.GetString() switch { "above" => Bound.Above, "below" => Bound.Below, _ => Bound.None })];
        CensoredNormal fit = CensoredNormal.Fit(sample.Numbers("z"), bounds);
        int n = bounds.Length;
        Digits.Agree(sample.Number("mean"), fit.Mean, new(7), "mean");
        Digits.Agree(sample.Number("sd"), fit.StandardDeviation, new(7), "standard deviation");
        Digits.Agree(sample.Number("varianceOfMean") * n / (n - 1), fit.MeanVariance, new(7), "variance of the mean");
        Assert.Equal(bounds.Count(b => b == Bound.None) - 1, fit.DegreesOfFreedom);
    }

    [Fact]
    public void Without_bounds_it_is_the_plain_mean()
    {
        double[] z = [1.2, 1.5, 1.9, 2.1, 2.4];
        CensoredNormal fit = CensoredNormal.Fit(z, new Bound[5]);
        double variance = z.Sum(v => (v - z.Average()) * (v - z.Average())) / 4;
        Digits.Agree(z.Average(), fit.Mean, new(12), "mean");
        Digits.Agree(variance / 5, fit.MeanVariance, new(10), "variance of the mean");
    }

    [Fact]
    public void One_value_is_not_enough() => Assert.Throws<InsufficientDataException>(() => CensoredNormal.Fit([1, 2, 2], [Bound.None, Bound.Above, Bound.Above]));

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Oracles", "judging", "censored_normal.json")));
        return document.RootElement.Clone();
    }
}
