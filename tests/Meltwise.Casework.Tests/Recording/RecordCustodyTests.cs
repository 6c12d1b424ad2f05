using Meltwise.Casework.Recording;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

public sealed class RecordCustodyTests : OwnBench
{
    [Fact]
    public void Custody_is_kept_with_the_day_the_heat_came_and_corrected_with_a_reason()
    {
        RecordCustody record = new(Bench);
        Assert.Contains("retained", Text(record.Run(new("K17", "a carrier", MarksAsFound: "none"), Hand, new(2026, 3, 1))), StringComparison.Ordinal);
        Assert.Equal(new DateOnly(2026, 3, 1), Bench.Heats().Single(h => h.Name == "K17").Received);
        Assert.Throws<BenchException>(() => record.Run(new("K17", "a driver"), Hand));
        Assert.True(record.Run(new("K17", "a driver"), Hand, why: "delivery note found").Done);
        Assert.Equal("delivery note found", Bench.Trail("custody", "K17")[0].Why);
    }

    [Fact]
    public void A_heat_that_is_not_there_and_days_in_the_wrong_order_are_refused()
    {
        RecordCustody record = new(Bench);
        Assert.Contains("Heat X1 is not on this bench", Text(record.Run(new("X1"), Hand)), StringComparison.Ordinal);
        Assert.Contains("before it came on 2026-03-01", Text(record.Run(new("K17", RetainedUntil: new(2026, 2, 1)), Hand, new(2026, 3, 1))), StringComparison.Ordinal);
        Assert.Empty(Bench.Custody());
    }
}
