using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Grades;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Grades;

public sealed class GradeCatalogueTests
{
    [Fact]
    public void Every_grade_has_ordered_limits_and_a_sane_middle()
    {
        Assert.Equal(39, GradeCatalogue.All.Count);
        Assert.Equal(39, GradeCatalogue.All.Select(g => g.Designation).Distinct().Count());
        Assert.All(GradeCatalogue.All, g => Assert.All(g.Limits, l => Assert.True(l.Lowest < l.Highest, $"{g.Designation} {l.Element}")));
        Assert.All(GradeCatalogue.All, g => Assert.True(g.Middle.Iron > 60, g.Designation));
    }

    // Limits of D2 seen in published text (C 1.40-1.60, Cr 11-13, Mo 0.70-1.20); M2 and X153CrMoV12 from memory of ASTM A600 and ISO 4957.
    [Theory]
    [InlineData("D2", AlloyElement.C, 1.40, 1.60)]
    [InlineData("D2", AlloyElement.Cr, 11, 13)]
    [InlineData("D2", AlloyElement.Mo, 0.70, 1.20)]
    [InlineData("m2 (regular c)", AlloyElement.W, 5.50, 6.75)]
    [InlineData("X153CrMoV12", AlloyElement.C, 1.45, 1.60)]
    [InlineData("A11", AlloyElement.V, 9.25, 10.25)]
    public void Limits_of_the_standards(string designation, AlloyElement element, double lowest, double highest)
    {
        ElementLimits limits = GradeCatalogue.Find(designation).Limits.Single(l => l.Element == element);
        Assert.Equal((lowest, highest), (limits.Lowest, limits.Highest));
    }

    [Fact]
    public void Only_what_was_seen_is_marked_as_seen()
    {
        Assert.Equal(SourceStatus.Retrieved, GradeCatalogue.Find("D2").Source.Status);
        Assert.Equal(SourceStatus.FromMemory, GradeCatalogue.Find("M4").Source.Status);
        Assert.NotNull(GradeCatalogue.Find("420").Note);
    }

    [Fact]
    public void An_unknown_grade_is_answered_with_like_ones() =>
        Assert.Contains("M2 (regular C), M2 (high C)", Assert.Throws<ArgumentException>(() => GradeCatalogue.Find("M2")).Message, StringComparison.Ordinal);
}
