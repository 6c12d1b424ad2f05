using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

public sealed class DescribeCouponsTests : OwnBench
{
    private static readonly CouponKey s_key = new("K17", "1");

    private Coupon Coupon => Bench.Coupons("K17").Single(c => c.Key == s_key);

    private Outcome<IReadOnlyList<DescribedCoupon>> Tell(FractureOrigin? origin, string? why = null, string? position = null) =>
        new DescribeCoupons(Bench).Run([new(Coupon with { Position = position }, origin)], Hand, why);

    [Fact]
    public void Position_and_origin_are_kept_at_once_and_only_what_differs_is_stored()
    {
        Assert.Contains("how an origin was seen", Text(Tell(new(s_key, OriginKind.Inclusion, 40, 200), position: "slice 2")), StringComparison.Ordinal);
        Assert.Equal(new(s_key, OriginKind.Inclusion, 40, 200), Assert.Single(Bench.FractureOrigins("K17")));
        Assert.Equal("slice 2", Coupon.Position);
        Assert.Contains("Nothing differs", Text(Tell(new(s_key, OriginKind.Inclusion, 40, 200), position: "slice 2")), StringComparison.Ordinal);
        Assert.Throws<BenchException>(() => Tell(new(s_key, OriginKind.Pore), position: "slice 2"));
        Assert.True(Tell(new(s_key, OriginKind.Pore), "seen at higher magnification", "slice 2").Done);
    }

    [Theory]
    [InlineData(OriginKind.Inclusion, -1.0, null, null, "size of -1 µm")]
    [InlineData(OriginKind.Inclusion, null, 60_000.0, null, "distance from the surface of 60000 µm")]
    [InlineData(OriginKind.NoneSeen, 40.0, null, null, "no origin was seen, yet")]
    [InlineData(OriginKind.Other, null, null, null, "notes must say")]
    public void What_contradicts_itself_is_refused_and_nothing_is_stored(OriginKind kind, double? sizeUm, double? fromSurfaceUm, string? notes, string because)
    {
        Outcome<IReadOnlyList<DescribedCoupon>> outcome = Tell(new(s_key, kind, sizeUm, fromSurfaceUm, null, notes), position: "slice 9");
        Assert.False(outcome.Done);
        Assert.Contains(because, Text(outcome), StringComparison.Ordinal);
        Assert.Empty(Bench.FractureOrigins());
        Assert.Null(Coupon.Position);
    }

    [Fact]
    public void An_unknown_coupon_is_named() =>
        Assert.Contains("K17/9 is not on this bench", Text(new DescribeCoupons(Bench).Run([new(new("K17", "9"), null)], Hand)), StringComparison.Ordinal);
}
