using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Drawn discs of two and three grey levels, brighter and darker than the matrix: each is counted in its own class.</summary>
public sealed class GreyClassRuleTests
{
    [Theory]
    [InlineData(2, 1)]
    [InlineData(2, -1)]
    [InlineData(3, 1)]
    [InlineData(3, -1)]
    public void Each_disc_falls_in_the_class_of_its_level(int classes, int sign)
    {
        DrawnShapes drawn = new(360, _ => sign > 0 ? 50 : 205, noise: 3);
        for (int k = 0; k < 36; k++) drawn.Disc(X(k), Y(k), 7 + k % 4, sign * Height(k, classes));
        SegmentedPicture found = drawn.Found(new() { GreyClasses = classes });
        Assert.Equal(36, found.Particles.Count);
        Assert.Equal(sign > 0 ? Polarity.Bright : Polarity.Dark, found.Plan.Settings.Polarity);
        for (int k = 0; k < 36; k++) Assert.Equal(1 + k % classes, DrawnShapes.Nearest(found, X(k), Y(k)).GreyClass);
    }

    [Fact]
    public void One_class_is_not_divided()
    {
        DrawnShapes drawn = new(360, _ => 50, noise: 3);
        for (int k = 0; k < 36; k++) drawn.Disc(X(k), Y(k), 8, Height(k, 3));
        Assert.All(drawn.Found(new()).Particles, p => Assert.Equal(1, p.GreyClass));
    }

    private static double X(int k) => k % 6 * 60 + 30;
    private static double Y(int k) => k / 6 * 60 + 30;
    private static double Height(int k, int classes) => 90 + (classes == 2 ? 60 : 35) * (k % classes);
}
