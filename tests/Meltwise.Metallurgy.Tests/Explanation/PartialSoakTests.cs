using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class PartialSoakTests
{
    private static readonly AlloyContent s_d2 = new() { C = 1.5, Cr = 12, Mo = 0.8, V = 0.9, Mn = 0.3, Si = 0.3 };

    [Fact]
    public void Nothing_undissolved_is_equilibrium()
    {
        SoakedState full = new EquilibriumSoak().Near(s_d2, 1293.15).Of(s_d2), none = new PartialSoak(0).Near(s_d2, 1293.15).Of(s_d2);
        Assert.Equal(full.Austenite.C, none.Austenite.C, 1e-12);
        Assert.Equal(full.Carbides.Total, none.Carbides.Total, 1e-12);
    }

    // Direction, common practice: a shorter soak leaves more carbide and less carbon in solution.
    [Fact]
    public void A_short_soak_leaves_more_carbide_and_less_carbon()
    {
        SoakedState full = new EquilibriumSoak().Near(s_d2, 1293.15).Of(s_d2), brief = new PartialSoak(0.2).Near(s_d2, 1293.15).Of(s_d2);
        Assert.True(brief.Austenite.C < full.Austenite.C);
        Assert.True(brief.Carbides.Total > full.Carbides.Total);
        Assert.Contains("20", new PartialSoak(0.2).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_share_beyond_the_range_is_refused() => Assert.Throws<OutsideModelRangeException>(() => new PartialSoak(1));
}
