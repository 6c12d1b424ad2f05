using Meltwise.Evidence;
using Meltwise.Statistics.ScatterLaw;
using Xunit;

namespace Meltwise.Statistics.Tests.ScatterLaw;

/// <summary>Laws of the scatter law; its numbers are held by the verdict's oracle cases.</summary>
public sealed class GammaVarianceLawTests
{
    [Theory]
    [InlineData(0.5)]
    [InlineData(1.0)]
    [InlineData(1.4)]
    public void An_exact_law_is_found(double exponent)
    {
        GammaVarianceLaw law = GammaVarianceLaw.Fit([.. s_means.Select(m => Group(m, 0.12 * Math.Pow(m, exponent - 1), 4))])!;
        Digits.Agree(exponent, law.Exponent, new(10), "exponent");
        Digits.Agree(0.12 * Math.Pow(30, exponent - 1), Math.Sqrt(law.VarianceAt(Math.Log(30))), new(10), "scatter at 30");
        Assert.True(law.Dispersion < 1e-12);
        Assert.True(law.IsEstimated);
    }

    // Rule of thumb, common practice, no source: mean 5 with range 4.5 to 5.5, and mean 50 with range 35 to 60, give an exponent near 1.4.
    // A range of k coupons is d2 standard deviations; with the same k at both ends d2 cancels: ln(25/1)/ln(50/5) = 1.398.
    [Fact]
    public void Rule_of_thumb_of_the_bench()
    {
        double small = (5.5 - 4.5) / 5, large = (60.0 - 35) / 50;
        List<ScatterGroup> groups = [.. Enumerable.Repeat(Group(5, small / 2, 3), 3), .. Enumerable.Repeat(Group(50, large / 2, 3), 3)];
        Assert.Equal(1.4, GammaVarianceLaw.Fit(groups)!.Exponent, 0.01);
    }

    [Fact]
    public void Means_too_close_leave_the_exponent_assumed()
    {
        GammaVarianceLaw law = GammaVarianceLaw.Fit([.. new[] { 30.0, 31, 33, 35, 36, 38 }.Select(m => Group(m, 0.1, 3))])!;
        Assert.False(law.IsEstimated);
        Assert.Equal(1, law.Exponent);
        Assert.Null(law.Interval);
    }

    [Fact]
    public void Four_groups_are_too_few() => Assert.Null(GammaVarianceLaw.Fit([.. s_means.Take(4).Select(m => Group(m, 0.1, 3))]));

    // Variances exactly on the law say that the groups share it: the likelihood rises to the end of its range and much may be lent.
    // Variances far from it say that they do not: little may be lent.
    [Fact]
    public void Lent_degrees_of_freedom_follow_the_scatter_of_the_groups()
    {
        List<ScatterGroup> alike = [.. s_means.Concat(s_means).Select(m => Group(m, 0.12, 4))];
        List<ScatterGroup> unlike = [.. s_means.Concat(s_means).Select((m, i) => Group(m, i % 2 == 0 ? 0.03 : 0.25, 4))];
        double much = LentDegreesOfFreedom.PriorLowerLimit(alike, GammaVarianceLaw.Fit(alike)!), little = LentDegreesOfFreedom.PriorLowerLimit(unlike, GammaVarianceLaw.Fit(unlike)!);
        Assert.True(much > 10 * little, $"{much} against {little}");
        Digits.Agree(1 / (1 / much + 1 / 64.0), LentDegreesOfFreedom.Lent(much, 64), new(12), "lent");
    }

    private static readonly double[] s_means = [5, 8, 13, 21, 34, 47, 60, 75];

    private static ScatterGroup Group(double mean, double logSd, int df) => new(Math.Log(mean), logSd * logSd, df);
}
