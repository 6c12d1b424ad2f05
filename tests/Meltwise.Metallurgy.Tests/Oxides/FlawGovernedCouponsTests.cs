using Meltwise.Evidence;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Oxides;

public sealed class FlawGovernedCouponsTests
{
    [Fact] // By hand: λ 0.05, n 12: 1 - e^-0.05 = 0.0487706, 1 - e^-0.6 = 0.4511884.
    public void Chances_by_hand()
    {
        FlawChances chances = FlawGovernedCoupons.Of(0.05, 12);
        new Published("0.0487706").Agrees(chances.OneCoupon, "one coupon");
        new Published("0.4511884").Agrees(chances.AtLeastOne, "at least one of twelve");
        Assert.Equal(60, chances.CouponsForNinetyFivePercent); // ln 20 / 0.05 = 59.9
        Digits.Agree(1 - chances.AtLeastOne, chances.Exactly(0), new(12), "none");
        Digits.Agree(1, Enumerable.Range(0, 13).Sum(chances.Exactly), new(12), "all outcomes");
    }

    [Fact] // Distribution-free rule: with a 5 % share, 59 coupons meet one with 95 % (textbooks on distribution-free tolerance).
    public void Fifty_nine_coupons_for_a_share_of_five_percent() =>
        Assert.Equal(59, FlawGovernedCoupons.Of(-Math.Log(0.95), 1).CouponsForNinetyFivePercent);

    [Fact]
    public void Tiny_chances_keep_their_digits() => Digits.Agree(1e-12, FlawGovernedCoupons.Of(1e-12, 1).OneCoupon, new(11), "1 - exp(-1e-12)");

    [Fact]
    public void No_flaw_expected_needs_no_coupon_and_nonsense_is_refused()
    {
        Assert.Contains("no number of coupons", FlawGovernedCoupons.Of(0, 5).Notes[0], StringComparison.Ordinal);
        Assert.Throws<OutsideModelRangeException>(() => FlawGovernedCoupons.Of(-1, 5));
        Assert.Throws<OutsideModelRangeException>(() => FlawGovernedCoupons.Of(1, 0));
    }
}
