using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Tests.Outliers;
using Xunit;

namespace Meltwise.Statistics.Tests.Comparison;

/// <summary>Worked examples from summaries, Published/handbook_examples.json.</summary>
public sealed class ContrastEstimateTests
{
    // NIST/SEMATECH e-Handbook 1.3.5.3, mileage of 249 and 79 cars: t = -12.62059 pooled; -12.94627 on 136.875 degrees of freedom with own variances.
    [Fact]
    public void Two_samples_from_their_summaries()
    {
        JsonElement e = GrubbsTests.Example("two_sample_t"), d = e.GetProperty("data"), c = e.GetProperty("computed");
        double n1 = d.Number("n1"), n2 = d.Number("n2"), v1 = Square(d.Number("sd1")), v2 = Square(d.Number("sd2")), difference = d.Number("mean1") - d.Number("mean2");
        ContrastEstimate own = ContrastEstimate.FromParts(difference, [new("first", v1 / n1, n1 - 1), new("second", v2 / n2, n2 - 1)]);
        Digits.Agree(c.Number("t_welch"), own.Estimate / own.StandardError, new(13), "t");
        Digits.Agree(c.Number("df_welch"), own.DegreesOfFreedom, new(13), "degrees of freedom");
        new Published("136.875").Agrees(own.DegreesOfFreedom, "as printed");
        double pooled = ((n1 - 1) * v1 + (n2 - 1) * v2) / (n1 + n2 - 2);
        ContrastEstimate one = ContrastEstimate.FromParts(difference, [new("pooled", pooled * (1 / n1 + 1 / n2), n1 + n2 - 2)]);
        Digits.Agree(c.Number("t_pooled"), one.Estimate / one.StandardError, new(13), "pooled t");
        Assert.Equal(326, one.DegreesOfFreedom, 1e-9);
    }

    // Lakens (2017), Soc. Psychol. Personal. Sci. 8, 355, from summaries (from memory): the larger p of the two tests prints as 0.004.
    [Fact]
    public void Two_one_sided_tests_from_summaries()
    {
        JsonElement e = GrubbsTests.Example("tost_summary"), d = e.GetProperty("data"), c = e.GetProperty("computed");
        double n1 = d.Number("n1"), n2 = d.Number("n2"), pooled = ((n1 - 1) * Square(d.Number("sd1")) + (n2 - 1) * Square(d.Number("sd2"))) / (n1 + n2 - 2), bound = c.Number("bound_raw");
        ContrastEstimate contrast = ContrastEstimate.FromParts(d.Number("mean1") - d.Number("mean2"), [new("pooled", pooled * (1 / n1 + 1 / n2), n1 + n2 - 2)]);
        Digits.Agree(c.Number("p_lower"), contrast.PNotAbove(-bound), new(10), "lower test");
        Digits.Agree(c.Number("p_upper"), contrast.PEquivalence(-bound, bound), new(10), "upper test");
        Digits.Agree(c.Numbers("ci90")[0], contrast.Interval(0.90).Lower, new(10), "narrow interval");
        Digits.Agree(c.Numbers("ci90")[1], contrast.Interval(0.90).Upper, new(10), "narrow interval");
        new Published("0.004").Agrees(contrast.PEquivalence(-bound, bound), "as printed");
    }

    private static double Square(double v) => v * v;
}
