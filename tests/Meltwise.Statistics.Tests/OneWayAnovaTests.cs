using Xunit;

namespace Meltwise.Statistics.Tests;

public sealed class OneWayAnovaTests
{
    [Fact]
    public void A_lone_group_says_what_is_missing() =>
        Assert.Contains("at least 2 groups; got 1", Assert.Throws<InsufficientDataException>(() => OneWayAnova.Fit([[1.0, 2.0]])).Message, StringComparison.Ordinal);
}
