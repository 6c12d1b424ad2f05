using System.Text.Json;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Segmentation;
using Meltwise.Imaging.Stereology;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>From the grey picture to clustering, sizes, sizes in space and directions, against the truth of made pictures (Published/made-micrographs, drawn again from their lists); nothing is set by hand.</summary>
public sealed class ListedPictureTests
{
    /// <summary>Fraction to 0.002, count to 2 %, mean and median diameter of whole particles to 0.2 px, and the distribution of diameters (largest gap between the two step curves) to 0.03; true sections below the smallest area kept (9 px) are left out of the sizes as they are out of the measurement.</summary>
    [Theory]
    [InlineData("clustered")]
    [InlineData("random_pair_for_clustered")]
    [InlineData("spheres_lognormal")]
    [InlineData("spheres_single_size")]
    [InlineData("ellipses_aligned_af10")]
    [InlineData("two_population")]
    public void Fraction_count_and_sizes_are_recovered(string name)
    {
        ListedPicture made = ListedPicture.Draw(name);
        SegmentedPicture found = Segment(made);
        double[] sizes = Sizes(found), truth = [.. made.Shapes.Where(s => !s.Cut && Math.PI * s.A * s.B >= new SegmentationSettings().MinimumAreaPx).Select(s => s.Diameter).Order()];
        double share = found.Particles.Sum(p => p.Area) / found.InspectedPixels, fraction = made.Truth.GetProperty("area_fraction_exact").GetDouble(), gap = Gap(sizes, truth);
        int count = made.Truth.GetProperty("n_total").GetInt32();
        TestContext.Current.TestOutputHelper?.WriteLine($"{name}: fraction {share:F5} true {fraction:F5}; count {found.Particles.Count} true {count}; mean {sizes.Average():F3} true {truth.Average():F3}; median {Median(sizes):F3} true {Median(truth):F3}; gap {gap:F3}");
        Assert.Equal(fraction, share, 0.002);
        Assert.InRange(found.Particles.Count, 0.98 * count, 1.02 * count);
        Assert.Equal(truth.Average(), sizes.Average(), 0.2);
        Assert.Equal(Median(truth), Median(sizes), 0.2);
        Assert.InRange(gap, 0, 0.03);
    }

    /// <summary>Ratio of nearest-neighbour distances to 0.02 of that of the exact centres (standard error of the ratio 0.018); Ripley's function leaves the envelope of random patterns for the clustered picture and not, but for chance, for its random pair.</summary>
    [Theory]
    [InlineData("clustered", true)]
    [InlineData("random_pair_for_clustered", false)]
    public void Clustering_is_recovered(string name, bool clustered)
    {
        ListedPicture made = ListedPicture.Draw(name);
        SegmentedPicture found = Segment(made);
        double[] x = [.. found.Particles.Select(p => p.X)], y = [.. found.Particles.Select(p => p.Y)];
        Clustering near = NearestNeighbours.Of(x, y, made.Picture.Width, made.Picture.Height)!;
        RipleyCurve curve = RipleyClustering.Of(x, y, made.Picture.Width, made.Picture.Height, cancel: TestContext.Current.CancellationToken)!;
        double truth = made.Truth.GetProperty("clark_evans").GetProperty("clark_evans_R_edge_corrected").GetDouble();
        TestContext.Current.TestOutputHelper?.WriteLine($"{name}: ratio {near.Ratio:F4} true {truth:F4}; above the envelope at {curve.ClusteredAt.Count} of {curve.Distance.Count}");
        Assert.Equal(truth, near.Ratio, 0.02);
        Assert.Equal(clustered, curve.ClusteredAt.Count > 0.5 * curve.Distance.Count);
    }

    /// <summary>
    /// Mean diameter in space from some hundreds of sections found in the picture: the smoothed way to 8 % of the truth; the plain way to 8 %, and to 12 % for spheres of one size, where the counting scatter of twelve classes over 240 sections runs down into the small ones;
    /// both to 4 % of what the exact sections of the list give, so that the picture adds little to that.
    /// </summary>
    [Theory]
    [InlineData("spheres_lognormal", 0.08)]
    [InlineData("spheres_single_size", 0.12)]
    public void Sizes_in_space_are_recovered_from_the_picture(string name, double plainTolerance)
    {
        ListedPicture made = ListedPicture.Draw(name);
        double um = made.Truth.GetProperty("um_per_px").GetDouble(), area = made.Picture.Width * (double)made.Picture.Height * um * um;
        double[] sections = [.. Sizes(Segment(made)).Select(d => d * um)];
        JsonElement truth = made.Truth.GetProperty("truth_3d");
        double mean = truth.GetProperty("mean_D_um").GetDouble();
        double[] exact = [.. made.Shapes.Where(s => !s.Cut).Select(s => s.Diameter * um)];
        SizeDistribution plain = SaltykovUnfolding.Unfold(sections, area, 12), smooth = SmoothedUnfolding.Unfold(sections, area, 12);
        double plainExact = SaltykovUnfolding.Unfold(exact, area, 12).MeanDiameter, smoothExact = SmoothedUnfolding.Unfold(exact, area, 12).MeanDiameter;
        TestContext.Current.TestOutputHelper?.WriteLine($"{name}: {sections.Length} sections, mean in space {plain.MeanDiameter:F3} plain, {smooth.MeanDiameter:F3} smoothed, true {mean:F3}, from exact sections {plainExact:F3} and {smoothExact:F3}; deviation {plain.DiameterDeviation:F3} and {smooth.DiameterDeviation:F3}, true {truth.GetProperty("sd_D_um").GetDouble():F3}");
        Assert.Equal(mean, plain.MeanDiameter, plainTolerance * mean);
        Assert.Equal(mean, smooth.MeanDiameter, 0.08 * mean);
        Assert.Equal(plainExact, plain.MeanDiameter, 0.04 * mean);
        Assert.Equal(smoothExact, smooth.MeanDiameter, 0.04 * mean);
    }

    /// <summary>Mean aspect to 0.08 (blur of 0.7 px widens short axes of 8 to 14 px by 1 to 3 %) and mean direction to half a degree.</summary>
    [Fact]
    public void Aspect_and_direction_of_aligned_ellipses_are_recovered()
    {
        ListedPicture made = ListedPicture.Draw("ellipses_aligned_af10");
        Particle[] whole = [.. Segment(made).Particles.Where(p => !p.Cut)];
        ListedShape[] truth = [.. made.Shapes.Where(s => !s.Cut)];
        double direction = truth.Average(s => s.AngleDegrees > 90 ? s.AngleDegrees - 180 : s.AngleDegrees);
        TestContext.Current.TestOutputHelper?.WriteLine($"aspect {whole.Average(p => p.Aspect):F3} true {truth.Average(s => s.A / s.B):F3}; direction {whole.Average(p => p.AngleDegrees):F2} true {direction:F2}");
        Assert.Equal(truth.Average(s => s.A / s.B), whole.Average(p => p.Aspect), 0.08);
        Assert.Equal(direction, whole.Average(p => p.AngleDegrees), 0.5);
    }

    private static SegmentedPicture Segment(ListedPicture made)
    {
        SegmentationPlan plan = SegmentationPlan.For(made.Picture, made.Picture.Frame, new(), TestContext.Current.CancellationToken);
        return PictureSegmentation.Run(made.Picture, plan, cancel: TestContext.Current.CancellationToken);
    }

    private static double[] Sizes(SegmentedPicture found) => [.. found.Particles.Where(p => !p.Cut).Select(p => p.EquivalentDiameter).Order()];

    private static double Median(double[] sorted) => 0.5 * (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]);

    /// <summary>Largest difference of the shares below a diameter.</summary>
    private static double Gap(double[] a, double[] b) =>
        a.Concat(b).Max(d => Math.Abs(a.Count(v => v <= d) / (double)a.Length - b.Count(v => v <= d) / (double)b.Length));
}
