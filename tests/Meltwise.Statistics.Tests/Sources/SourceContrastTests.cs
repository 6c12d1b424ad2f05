using Meltwise.Evidence;
using Meltwise.Statistics.Sources;
using Xunit;

namespace Meltwise.Statistics.Tests.Sources;

/// <summary>Laws of the comparison of sources; its numbers are held by the verdict's oracle cases.</summary>
public sealed class SourceContrastTests
{
    // Balanced: h heats of n coupons each is the two-sample t test on heat means, with 2(h - 1) degrees of freedom (common knowledge of nested designs; Oracles/statistics/mixed.json, balanced_heats, holds the same).
    [Fact]
    public void Balanced_heats_are_the_t_test_on_heat_means()
    {
        double[] candidate = [3.70, 3.92, 3.81, 3.66], reference = [3.55, 3.75, 3.49, 3.70];
        SourceContrast contrast = SourceContrast.Fit([.. Heats(candidate, 0), .. Heats(reference, 1)], 2, 0, 1, null)!;
        double pooled = (Squares(candidate) + Squares(reference)) / 6;
        Digits.Agree(candidate.Average() - reference.Average(), contrast.Estimate.Estimate, new(11), "contrast");
        Digits.Agree(Math.Sqrt(pooled * 2 / 4), contrast.Estimate.StandardError, new(8), "standard error");
        Digits.Agree(6, contrast.Estimate.DegreesOfFreedom, new(7), "degrees of freedom");
    }

    // Heats closer together than their coupons' scatter allows: τ² is 0, and still the heats are counted.
    [Fact]
    public void Degrees_of_freedom_count_heats_also_where_the_heat_variance_is_zero()
    {
        double[] same = [3.70, 3.70, 3.70];
        SourceContrast contrast = SourceContrast.Fit([.. Heats(same, 0), .. Heats(same, 1)], 2, 0, 1, null)!;
        Assert.Equal(0, contrast.HeatVariance);
        Digits.Agree(4, contrast.Estimate.DegreesOfFreedom, new(7), "degrees of freedom");
    }

    [Fact]
    public void Swapped_roles_turn_the_sign()
    {
        List<SourceHeat> heats = [.. Heats([3.7, 3.9, 3.6, 3.75, 3.82, 3.66], 0), .. Heats([3.5], 1)];
        SourceContrast a = SourceContrast.Fit(heats, 2, 0, 1, new(-0.09, 0.01, 12))!, b = SourceContrast.Fit(heats, 2, 1, 0, new(-0.09, 0.01, 12))!;
        Digits.Agree(a.Estimate.Estimate, -b.Estimate.Estimate, new(12), "contrast");
        Digits.Agree(a.Estimate.StandardError, b.Estimate.StandardError, new(12), "standard error");
        Digits.Agree(a.Estimate.DegreesOfFreedom, b.Estimate.DegreesOfFreedom, new(12), "degrees of freedom");
    }

    [Fact]
    public void Many_heats_are_worth_more_than_many_coupons()
    {
        double[] means = [3.7, 3.9, 3.6, 3.75, 3.82, 3.66, 3.71, 3.94];
        SourceContrast few = SourceContrast.Fit([.. Heats(means[..2], 0), .. Heats(means[2..4], 1), .. Heats(means[4..], 2)], 3, 0, 1, null)!;
        SourceContrast many = SourceContrast.Fit([.. Heats(means[..4], 0), .. Heats(means[4..], 1)], 2, 0, 1, null)!;
        Assert.True(many.Estimate.StandardError < few.Estimate.StandardError);
    }

    private static IEnumerable<SourceHeat> Heats(double[] means, int source) => means.Select((m, i) => new SourceHeat(source, i == 0, 4, m, 3 * 0.012, 62 + 0.1 * i));

    private static double Squares(double[] x) => x.Sum(v => (v - x.Average()) * (v - x.Average()));
}
