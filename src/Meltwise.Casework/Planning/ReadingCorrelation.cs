using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>How the readings of two properties on one coupon go together, within a heat and treatment.</summary>
/// <remarks>
/// <para><b>Formula.</b> r = ΣS_ab/√(ΣS_aa·ΣS_bb), S the sums of squares and products about the mean of a heat, treatment and test temperature, on the analysis scale of each property; Σ(n − 1) degrees of freedom.</para>
/// <para><b>Limits.</b> Taken as known by a plan. From coupons that have both readings; at least 20 degrees of freedom, below which its standard error passes 0.2.</para>
/// <para><b>Source.</b> Pooled within-groups correlation, [SearleCasellaMcCulloch1992].</para>
/// </remarks>
/// <param name="Correlation">r.</param>
/// <param name="DegreesOfFreedom">Σ(n − 1).</param>
/// <param name="Coupons">Coupons that have both readings.</param>
public sealed record ReadingCorrelation(double Correlation, int DegreesOfFreedom, int Coupons)
{
    private const int FewestDf = 20;

    /// <summary>From two tables of one bench; null where too few coupons of the kind have both readings.</summary>
    /// <param name="first">Coupons with the readings of one property.</param>
    /// <param name="second">Coupons with those of the other; the same table where it holds both.</param>
    /// <param name="firstRule">Scale of the first.</param>
    /// <param name="secondRule">Scale of the second.</param>
    /// <param name="kind">The kind of coupon.</param>
    public static ReadingCorrelation? Of(CouponTable first, CouponTable second, DecisionRule firstRule, DecisionRule secondRule, PlannedKind kind)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        ArgumentNullException.ThrowIfNull(kind);
        Dictionary<(string, string), double> other = [];
        foreach ((CouponRow row, double value) in Readings(second, secondRule, kind)) other[(row.Heat, row.Coupon)] = value;
        double aa = 0, bb = 0, ab = 0;
        int df = 0, coupons = 0;
        foreach (var group in Readings(first, firstRule, kind).Where(r => other.ContainsKey((r.Row.Heat, r.Row.Coupon))).GroupBy(r => (r.Row.Heat, r.Row.Treatment, r.Row.TestTemperatureK)))
        {
            double[] a = [.. group.Select(r => r.Value)], b = [.. group.Select(r => other[(r.Row.Heat, r.Row.Coupon)])];
            double meanA = a.Average(), meanB = b.Average();
            for (int i = 0; i < a.Length; i++)
                (aa, bb, ab) = (aa + (a[i] - meanA) * (a[i] - meanA), bb + (b[i] - meanB) * (b[i] - meanB), ab + (a[i] - meanA) * (b[i] - meanB));
            (df, coupons) = (df + a.Length - 1, coupons + a.Length);
        }
        return df >= FewestDf && aa > 0 && bb > 0 ? new(Math.Clamp(ab / Math.Sqrt(aa * bb), -0.99, 0.99), df, coupons) : null;
    }

    private static IEnumerable<(CouponRow Row, double Value)> Readings(CouponTable table, DecisionRule rule, PlannedKind kind)
    {
        ResolvedRule resolved = ResolvedRule.From(rule, null, 0);
        return table.Rows.Where(r => r.State == CouponState.Valid && !(kind.LotHeats?.Contains(r.Heat) ?? false) && kind.Choice.Misses(r) is null)
            .Select(r => (Row: r, Value: LotReader.ValueOf(r, resolved)))
            .Where(r => r.Value is { Bound: Censoring.None })
            .Select(r => (r.Row, resolved.Analysed(r.Value!.Value.Value)));
    }
}
