using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Comparison;
using Xunit;

namespace Meltwise.Statistics.Tests.Comparison;

/// <summary>Oracles/statistics/two_sample.json: R 4.2.2, 14 digits.</summary>
public sealed class TrimmedMeansTests
{
    private static readonly JsonElement s_sets = Oracle.Read("two_sample.json").GetProperty("sets");

    public static TheoryData<string, string, double> Sets
    {
        get
        {
            TheoryData<string, string, double> data = [];
            foreach (JsonProperty set in s_sets.EnumerateObject())
            {
                data.Add(set.Name, "yuen", 0.2);
                data.Add(set.Name, "yuen_10pct", 0.1);
            }
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Estimate_error_and_p_agree(string name, string key, double trim)
    {
        JsonElement set = s_sets.GetProperty(name), yuen = set.GetProperty(key);
        ContrastEstimate fit = TrimmedMeans.Fit(set.Numbers("x"), set.Numbers("y"), trim);
        Digits.Agree(yuen.Number("difference"), fit.Estimate, new(11), "difference");
        Digits.Agree(yuen.Number("se"), fit.StandardError, new(12), "standard error");
        Digits.Agree(yuen.Number("df"), fit.DegreesOfFreedom, new(12), "degrees of freedom");
        Digits.Agree(yuen.Number("p_two_sided"), fit.PDifference, new(11), "p");
    }
}
