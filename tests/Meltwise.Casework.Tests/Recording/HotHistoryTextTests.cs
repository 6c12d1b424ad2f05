using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

public sealed class HotHistoryTextTests
{
    public static TheoryData<string, HotStep> Typed => new()
    {
        { "consolidation 1150 °C 3 h", new("consolidation", 1150, 1150, 3) },
        { "consolidation: 1150C, 3h", new("consolidation", 1150, 1150, 3) },
        { "reheat 1120 to 900 °C 40 min", new("reheat", 1120, 900, 40 / 60.0) },
        { "reheat 1120-900 C 0.5 h", new("reheat", 1120, 900, 0.5) },
        { "1100 2h", new("soak", 1100, 1100, 2) },
        { "soak 2012F/2h", new("soak", 1100, 1100, 2) }, // 2012 °F is 1100 °C by the definition of the scales
        { "hot soak 1100,5 °C for 2 h", new("hot soak", 1100.5, 1100.5, 2) },
    };

    [Theory]
    [MemberData(nameof(Typed))]
    public void A_stretch_is_read_as_people_write_it(string text, HotStep expected)
    {
        (IReadOnlyList<HotStep> steps, string? fault) = HotHistoryText.Read(text);
        Assert.Null(fault);
        HotStep step = Assert.Single(steps);
        Assert.Equal(expected.Kind, step.Kind);
        Assert.Equal(expected.FromC, step.FromC, 1e-9);
        Assert.Equal(expected.ToC, step.ToC, 1e-9);
        Assert.Equal(expected.Hours, step.Hours, 1e-12);
    }

    [Fact]
    public void Lines_and_semicolons_part_stretches_and_what_is_written_reads_back()
    {
        IReadOnlyList<HotStep> steps = HotHistoryText.Read("consolidation 1150 °C 3 h\nreheat 1120 to 900 °C 0.5 h; anneal 880 °C 4 h").Steps;
        Assert.Equal(3, steps.Count);
        Assert.Equal(steps, HotHistoryText.Read(HotHistoryText.Write(steps)).Steps);
        Assert.Equal(steps, HotHistoryText.Read(HotHistoryText.Write(steps, "\n")).Steps);
        Assert.Empty(HotHistoryText.Read("  ").Steps);
    }

    [Theory]
    [InlineData("consolidation", "is not a hot stretch")]
    [InlineData("consolidation 1150 °C", "is not a hot stretch")]
    [InlineData("soak 5000 °C 2 h", "found 5000 °C, expected 300 to 1400 °C")]
    [InlineData("soak 1100 °C 0 h", "found 0 h")]
    [InlineData("soak 1100 °C 5000 h", "found 5000 h")]
    [InlineData("soak -1100 °C 2 h", "is not a hot stretch")]
    public void What_cannot_be_is_told_with_what_was_expected(string text, string told)
    {
        (IReadOnlyList<HotStep> steps, string? fault) = HotHistoryText.Read(text);
        Assert.Empty(steps);
        Assert.Contains(told, fault, StringComparison.Ordinal);
    }
}
