using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Outliers;
using Xunit;

namespace Meltwise.Statistics.Tests.Outliers;

/// <summary>Oracles/judging/outlier_critical_values.json (exact t quantiles in mpmath, 15 digits) and the NIST/SEMATECH e-Handbook, 1.3.5.17.1.</summary>
public sealed class GrubbsTests
{
    [Fact]
    public void Critical_values_agree()
    {
        using JsonDocument oracle = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Oracles", "judging", "outlier_critical_values.json")));
        int rows = 0;
        foreach (JsonElement row in oracle.RootElement.GetProperty("grubbs").EnumerateArray())
        {
            int n = (int)row.Number("n");
            double alpha = row.Number("alpha"), critical = row.Number("sides") == 1 ? Grubbs.OneSidedCriticalValue(n, alpha) : Grubbs.CriticalValue(n, alpha);
            Digits.Agree(row.Number("critical"), critical, new(12), $"n {n}, alpha {alpha}");
            rows++;
        }
        Assert.True(rows > 100);
    }

    [Fact]
    public void Handbook_example()
    {
        JsonElement example = Example("grubbs");
        OutlierFinding finding = Grubbs.Test(example.Numbers("data"))!.Value;
        Digits.Agree(example.GetProperty("computed").Number("G"), finding.Statistic, new(13), "G");
        Assert.Equal(245.57, example.Numbers("data")[finding.Index]);
        Digits.Agree(example.GetProperty("computed").Number("critical_value_one_sided_0.05"), Grubbs.OneSidedCriticalValue(8, 0.05), new(12), "critical value");
        Assert.True(finding.IsOutlier);
    }

    // At n = 3 the statistic cannot exceed (n - 1)/√n = 1.155, so nothing could ever be flagged (handbook, analysis section 8).
    [Fact]
    public void Three_readings_are_not_tested() => Assert.Null(Grubbs.Test([1, 2, 900]));

    [Fact]
    public void Equal_readings_are_no_outliers() => Assert.Null(Grubbs.Test([5, 5, 5, 5]));

    internal static JsonElement Example(string name)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Oracle.PathOf("Published", "handbook_examples.json")));
        return document.RootElement.GetProperty("examples").GetProperty(name).Clone();
    }
}
