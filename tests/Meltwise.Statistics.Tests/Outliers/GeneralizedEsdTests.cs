using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Outliers;
using Xunit;

namespace Meltwise.Statistics.Tests.Outliers;

/// <summary>The 54 values of Rosner (1983) as the NIST/SEMATECH e-Handbook prints them, 1.3.5.17.3.</summary>
public sealed class GeneralizedEsdTests
{
    private static readonly JsonElement s_example = GrubbsTests.Example("generalized_esd");

    [Fact]
    public void Steps_agree()
    {
        IReadOnlyList<OutlierFinding> steps = GeneralizedEsd.Steps(s_example.Numbers("data"), 10);
        int i = 0;
        foreach (JsonElement expected in s_example.GetProperty("computed").GetProperty("steps").EnumerateArray())
        {
            Assert.Equal(expected.Number("removed"), s_example.Numbers("data")[steps[i].Index]);
            Digits.Agree(expected.Number("R"), steps[i].Statistic, new(12), $"R {i + 1}");
            Digits.Agree(expected.Number("lambda"), steps[i].CriticalValue, new(12), $"lambda {i + 1}");
            i++;
        }
    }

    [Fact]
    public void Three_outliers_although_the_first_two_steps_do_not_exceed() => Assert.Equal(3, GeneralizedEsd.Outliers(s_example.Numbers("data"), 10).Count);
}
