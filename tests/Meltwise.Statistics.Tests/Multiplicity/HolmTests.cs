using Meltwise.Statistics.Multiplicity;
using Xunit;

namespace Meltwise.Statistics.Tests.Multiplicity;

public sealed class HolmTests
{
    // By hand from Holm (1979): sorted 0.01, 0.02, 0.03, 0.04 times 4, 3, 2, 1 is 0.04, 0.06, 0.06, 0.04, made monotone 0.04, 0.06, 0.06, 0.06.
    [Fact]
    public void Four_by_hand() => Assert.Equal([0.06, 0.04, 0.06, 0.06], Holm.Adjust([0.03, 0.01, 0.04, 0.02]).Select(p => Math.Round(p, 12)));

    [Fact]
    public void Never_above_one() => Assert.Equal([1.0, 1.0], Holm.Adjust([0.7, 0.9]));

    [Fact]
    public void All_must_hold() => Assert.Equal(0.04, IntersectionUnion.P([0.01, 0.04, 0.02]));
}
