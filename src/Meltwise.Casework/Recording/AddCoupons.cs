using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Records a series of coupons of one heat.</summary>
public sealed class AddCoupons(IBench bench)
{
    /// <summary>Adds the coupons; one that is recorded already stands against all of them.</summary>
    /// <param name="coupons">The coupons; all of one heat.</param>
    /// <param name="hand">Who.</param>
    public Outcome<IReadOnlyList<Coupon>> Run(IReadOnlyList<Coupon> coupons, Hand hand)
    {
        string[] faults = [.. FaultsOf(coupons)];
        if (faults.Length > 0) return Outcome<IReadOnlyList<Coupon>>.Refused(faults);
        bench.Commit(hand.By, null, coupons.Select(c => new BenchChange.PutCoupon(c)));
        List<Finding> findings = [];
        if (coupons.Any(c => c.Geometry is null)) findings.Add(Finding.Note("Size and notch are unknown; such coupons match no others in a comparison."));
        if (coupons.Any(c => c.Orientation is null)) findings.Add(Finding.Note("The orientation is unknown; such coupons match no others in a comparison."));
        return Outcome<IReadOnlyList<Coupon>>.Stored(coupons, findings);
    }

    private IEnumerable<string> FaultsOf(IReadOnlyList<Coupon> coupons)
    {
        if (coupons.Count == 0) yield return "No coupon was named.";
        string[] heats = [.. coupons.Select(c => c.Heat).Distinct()];
        if (heats.Length > 1) yield return $"The coupons belong to several heats ({string.Join(", ", heats)}); record each heat's series by itself.";
        foreach (string twice in coupons.GroupBy(c => c.Name).Where(g => g.Count() > 1).Select(g => g.Key)) yield return $"Coupon {twice} is named twice.";
        if (coupons.Any(c => string.IsNullOrWhiteSpace(c.Name))) yield return "A coupon has no name.";
        foreach (string heat in heats)
        {
            if (bench.Heats().All(h => h.Name != heat))
            {
                yield return $"Heat {heat} is not on this bench. Record it first.";
                continue;
            }
            HashSet<string> there = [.. bench.Coupons(heat).Select(c => c.Name)];
            foreach (Coupon coupon in coupons.Where(c => c.Heat == heat && there.Contains(c.Name))) yield return $"Coupon {coupon.Key} is recorded already.";
        }
    }
}
