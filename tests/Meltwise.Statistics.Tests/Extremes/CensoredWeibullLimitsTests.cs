using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Extremes;
using Xunit;

namespace Meltwise.Statistics.Tests.Extremes;

/// <summary>Oracles/statistics/weibull_limits.json: the same definition by another program (numpy, 60000 samples at each trial value instead of a table). Tolerance: three Monte-Carlo errors of the table's 10000 samples, each 0.0016 in the tail and so 0.03 in a signed root of about 2, and of the other program: 5 % of the way from the estimate to the limit.</summary>
public sealed class CensoredWeibullLimitsTests
{
    private static readonly JsonElement s_cases = Oracle.Read("weibull_limits.json").GetProperty("cases");

    public static TheoryData<string> Names => [.. s_cases.EnumerateObject().Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Limits_agree(string name)
    {
        JsonElement e = s_cases.GetProperty(name);
        WeibullFit fit = WeibullStrength.Fit(e.Numbers("values"), [.. e.GetProperty("failed").EnumerateArray().Select(f => f.GetBoolean())]);
        Digits.Agree(e.Number("shapeEstimate"), fit.Shape, new(8), "shape");
        Digits.Agree(e.Number("scaleEstimate"), fit.Scale, new(8), "scale");
        Near(fit.Shape, e.Numbers("shape"), fit.ShapeInterval(0.95));
        Near(fit.Scale, e.Numbers("scale"), fit.ScaleInterval(0.95));

        static void Near(double estimate, double[] expected, (double Lower, double Upper) limits)
        {
            Assert.Equal(Math.Log(expected[0]), Math.Log(limits.Lower), 0.05 * Math.Log(estimate / expected[0]));
            Assert.Equal(Math.Log(expected[1]), Math.Log(limits.Upper), 0.05 * Math.Log(expected[1] / estimate));
        }
    }

    [Fact]
    public void A_change_of_unit_changes_the_scale_alone()
    {
        double[] x = [310, 500, 355, 289, 388, 500, 342, 371];
        bool[] failed = [.. x.Select(v => v < 500)];
        WeibullFit here = WeibullStrength.Fit(x, failed), there = WeibullStrength.Fit([.. x.Select(v => 1e-3 * v)], failed);
        Digits.Agree(here.ShapeInterval(0.9).Upper, there.ShapeInterval(0.9).Upper, new(9), "shape");
        Digits.Agree(1e-3 * here.ScaleInterval(0.9).Upper, there.ScaleInterval(0.9).Upper, new(9), "scale");
    }

    [Fact]
    public void Readings_all_alike_are_refused() =>
        Assert.Contains("all 4 are the same", Assert.Throws<InsufficientDataException>(() => WeibullStrength.Fit([5, 5, 5, 5])).Message, StringComparison.Ordinal);
}
