using System.Globalization;
using MathNet.Numerics.Distributions;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>Chance that a flaw above the critical size sits in the stressed volume of a coupon, and of at least one such coupon among n.</summary>
/// <remarks>
/// <para><b>Formula.</b> With λ flaws expected in the stressed volume: one coupon 1 - exp(-λ); at least one of n 1 - exp(-n λ); the number of such coupons is
/// binomial.</para>
/// <para><b>Assumptions.</b> Flaws lie at random and independently (Poisson), alike in every coupon. Clustered flaws make several low coupons likelier and any
/// low coupon less likely.</para>
/// <para><b>Range.</b> λ from 0 up; 1 to 10 000 coupons.</para>
/// <para><b>Source.</b> Poisson's law of rare events, textbooks.</para>
/// </remarks>
public static class FlawGovernedCoupons
{
    /// <summary>Chances for a set of coupons.</summary>
    /// <param name="expectedFlaws">Expected flaws above the critical size in the stressed volume of one coupon.</param>
    /// <param name="coupons">Number of coupons.</param>
    /// <exception cref="OutsideModelRangeException">A negative expectation, or fewer than one coupon.</exception>
    public static FlawChances Of(double expectedFlaws, int coupons)
    {
        if (!(expectedFlaws >= 0 && double.IsFinite(expectedFlaws))) throw new OutsideModelRangeException("Flaw-governed coupons", "expected flaws", expectedFlaws, 0, 1e9, "");
        if (coupons is < 1 or > 10_000) throw new OutsideModelRangeException("Flaw-governed coupons", "coupons", coupons, 1, 10_000, "");
        double one = ChanceOfAny(expectedFlaws);
        double any = ChanceOfAny(coupons * expectedFlaws);
        int needed = expectedFlaws == 0 ? int.MaxValue : (int)Math.Min(int.MaxValue, Math.Ceiling(-Math.Log(0.05) / expectedFlaws));
        return new(expectedFlaws, one, any, coupons, needed,
        [
            needed == int.MaxValue
                ? "No flaw above the critical size is expected: no number of coupons will show one."
                : string.Create(CultureInfo.InvariantCulture, $"{needed} coupons would meet at least one such flaw with a chance of 95 %."),
            "Flaws are taken as scattered at random; clusters make it a worse bet.",
        ]);
    }

    // 1 - exp(-x) without loss of digits at small x: Kahan's correction, (1 - e) x / -ln e.
    private static double ChanceOfAny(double expected)
    {
        double none = Math.Exp(-expected);
        return none >= 1 ? expected : none == 0 ? 1 : (1 - none) * expected / -Math.Log(none);
    }
}

/// <summary>Chances of flaw-governed coupons.</summary>
/// <param name="ExpectedFlaws">In the stressed volume of one coupon.</param>
/// <param name="OneCoupon">Chance for one coupon.</param>
/// <param name="AtLeastOne">Chance of at least one among the coupons.</param>
/// <param name="Coupons">Number of coupons.</param>
/// <param name="CouponsForNinetyFivePercent">Coupons that would meet one with a chance of 95 %.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record FlawChances(
    double ExpectedFlaws, double OneCoupon, double AtLeastOne, int Coupons, int CouponsForNinetyFivePercent, IReadOnlyList<string> Notes)
{
    /// <summary>Chance of exactly <paramref name="k"/> flaw-governed coupons.</summary>
    public double Exactly(int k) => Binomial.PMF(OneCoupon, Coupons, k);
}
