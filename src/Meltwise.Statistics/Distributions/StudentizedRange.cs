namespace Meltwise.Statistics.Distributions;

/// <summary>The range of k normal means over their independently estimated standard error: all pairs of groups at once (Tukey, Games-Howell).</summary>
/// <remarks>
/// <para><b>Formula.</b> P(W &gt; w) = k ∫ φ(z) (Φ(z)^(k-1) - [Φ(z) - Φ(z - w)]^(k-1)) dz, mixed over s = √(χ²_ν/ν) with w = q s.</para>
/// <para><b>Computation.</b> The upper tail is integrated itself, by trapezoidal rules that converge exponentially here;
/// about 1e-11 relative, so a p value of 1e-12 is still one.</para>
/// <para><b>Range.</b> k ≥ 2; ν &gt; 0 or infinite. Equal standard errors; with unequal numbers the use is conservative (Tukey-Kramer).</para>
/// <para><b>Source.</b> Formula [CopenhaverHolland1988]; rule [TrefethenWeideman2014].</para>
/// </remarks>
public static class StudentizedRange
{
    /// <summary>P(Q &gt; q) for k groups and ν degrees of freedom.</summary>
    public static double UpperTail(double q, int groups, double degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(groups, 2);
        return q <= 0 ? 1 : Math.Min(1, ChiRoot.Mix(degreesOfFreedom, s => RangeTail(q * s, groups)));
    }

    /// <summary>The q with P(Q ≤ q) = p, for 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, int groups, double degreesOfFreedom) => TailInversion.OnPositive(p, q =>
    {
        double upper = UpperTail(q, groups, degreesOfFreedom);
        return (1 - upper, upper);
    }, 3);

    private static double RangeTail(double w, int k)
    {
        double h = 0.7 / Math.Sqrt(k), sum = 0;
        for (double z = -9; z <= w + 9; z += h)
        {
            double below = Normal.Cdf(z), share = Normal.Cdf(z - w) / below, any = 0;
            for (int i = 1; i < k; i++) any += (1 - any) * share;
            sum += Normal.Density(z) * Math.Pow(below, k - 1) * any;
        }
        return k * sum * h;
    }
}
