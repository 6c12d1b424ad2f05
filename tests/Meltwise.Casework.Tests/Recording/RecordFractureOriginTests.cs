using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

public sealed class RecordFractureOriginTests : OwnBench
{
    private static readonly CouponKey s_coupon = new("K17", "1");

    [Fact]
    public void An_origin_is_kept_and_asks_how_it_was_seen()
    {
        Assert.Contains("how the origin was seen", Text(new RecordFractureOrigin(Bench).Run(new(s_coupon, OriginKind.Inclusion, 40, 200), Hand)), StringComparison.Ordinal);
        Assert.Equal(new(s_coupon, OriginKind.Inclusion, 40, 200), Assert.Single(Bench.FractureOrigins("K17")));
    }

    [Theory]
    [InlineData(OriginKind.Inclusion, -1.0, null, null, "size of -1 µm")]
    [InlineData(OriginKind.Inclusion, null, 60_000.0, null, "distance from the surface of 60000 µm")]
    [InlineData(OriginKind.NoneSeen, 40.0, null, null, "No origin was seen, yet")]
    [InlineData(OriginKind.Other, null, null, null, "notes must say")]
    public void What_contradicts_itself_is_refused(OriginKind kind, double? sizeUm, double? fromSurfaceUm, string? notes, string because)
    {
        Outcome<FractureOrigin> outcome = new RecordFractureOrigin(Bench).Run(new(s_coupon, kind, sizeUm, fromSurfaceUm, null, notes), Hand);
        Assert.False(outcome.Done);
        Assert.Contains(because, Text(outcome), StringComparison.Ordinal);
        Assert.Empty(Bench.FractureOrigins());
    }

    [Fact]
    public void An_unknown_coupon_is_named() =>
        Assert.Contains("K17/9 is not on this bench", Text(new RecordFractureOrigin(Bench).Run(new(new("K17", "9"), OriginKind.Pore), Hand)), StringComparison.Ordinal);
}
