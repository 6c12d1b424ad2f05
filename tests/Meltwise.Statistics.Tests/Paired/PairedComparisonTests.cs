using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Paired;
using Xunit;

namespace Meltwise.Statistics.Tests.Paired;

/// <summary>Oracles/statistics/paired.json, complete enumeration in R; Fisher (1935) for Darwin's plants: t = 2.148, Student (1908) for sleep: t = 4.06.</summary>
public sealed class PairedComparisonTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("paired.json");

    [Theory]
    [InlineData("darwin")]
    [InlineData("shoes")]
    [InlineData("sleep_paired")]
    public void Agrees(string set)
    {
        JsonElement e = s_oracle.GetProperty(set), tost = e.GetProperty("tost");
        PairedResult r = PairedComparison.Of(e.Numbers("differences"));
        Digits.Agree(e.Number("t"), r.T, new(11), "t");
        Digits.Agree(e.Number("p_two_sided"), r.P, new(10), "p");
        Digits.Agree(e.Numbers("ci95")[0], r.Interval(0.95).Lower, new(9), "lower");
        Digits.Agree(e.Numbers("ci95")[1], r.Interval(0.95).Upper, new(10), "upper");
        (double lower, double upper) = r.EquivalenceP(tost.Numbers("margin")[0], tost.Numbers("margin")[1]);
        Digits.Agree(tost.Number("p_lower"), lower, new(10), "lower test");
        Digits.Agree(tost.Number("p_upper"), upper, new(10), "upper test");
        Digits.Agree(e.GetProperty("sign_flip").Number("p_two_sided"), r.SignFlipP, new(14), "sign flips");
    }
}
