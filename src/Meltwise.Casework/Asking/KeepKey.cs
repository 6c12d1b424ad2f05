using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>The blind key: codes are given out and sealed, the readings locked, the key opened; each is stamped, in this order.</summary>
/// <remarks>Only an exclusion stamped before the opening enters the verdict (verdict step 1).</remarks>
public sealed class KeepKey(IBench bench)
{
    /// <summary>Gives each coupon its code and seals the key.</summary>
    /// <param name="enquiry">Name of the enquiry.</param>
    /// <param name="codes">Code of every coupon of the enquiry; no code twice.</param>
    /// <param name="hand">Who.</param>
    public Outcome<Enquiry> Seal(string enquiry, IReadOnlyDictionary<CouponKey, string> codes, Hand hand) => EnquiryStep.On(bench, enquiry, hand, "codes sealed", (e, now) =>
    {
        if (e.Key is not null) return (null, [Finding.Fault($"The codes of {e.Name} are sealed already.")], []);
        Dictionary<CouponKey, Coupon> coupons = Own(e).ToDictionary(c => c.Key);
        Finding[] faults = [.. FaultsOf(codes, coupons)];
        if (faults.Length > 0) return (null, faults, []);
        BenchChange[] changes = [.. codes.Select(c => new BenchChange.PutCoupon(coupons[c.Key] with { Code = c.Value }))];
        return (e with { Key = new(now) }, [], changes);
    });

    /// <summary>Locks the readings: from now on they change only as corrections with a reason.</summary>
    public Outcome<Enquiry> LockReadings(string enquiry, Hand hand) => EnquiryStep.On(bench, enquiry, hand, "readings locked", (e, now) =>
    {
        if (e.Key is null) return EnquiryStep.Against($"{e.Name} has no sealed codes, so there are no readings to lock before an opening.");
        if (e.Key.ReadingsLockedAtUtc is not null) return EnquiryStep.Against($"The readings of {e.Name} are locked already.");
        HashSet<CouponKey> read = [.. Own(e).Select(c => c.Heat).Distinct().SelectMany(h => bench.Readings(new(h, ""))).Where(r => e.Rule is null || r.Property == e.Rule.Property).Select(r => r.Coupon)];
        string[] unread = [.. Own(e).Where(c => !read.Contains(c.Key)).Select(c => c.Code ?? c.Key.ToString())];
        Finding[] findings = unread.Length == 0 ? [] : [Finding.Warning($"Without a reading: {string.Join(", ", unread.Take(20))}.")];
        return (e with { Key = e.Key with { ReadingsLockedAtUtc = now }, StagesUtc = ReachStage.With(e, EnquiryStage.Tested, now) }, findings);
    });

    /// <summary>Opens the key.</summary>
    public Outcome<Enquiry> Open(string enquiry, Hand hand) => EnquiryStep.On(bench, enquiry, hand, "key opened", (e, now) =>
    {
        if (e.Key is null) return EnquiryStep.Against($"{e.Name} has no sealed key.");
        if (e.Key.OpenedAtUtc is not null) return EnquiryStep.Against($"The key of {e.Name} is open already.");
        if (e.Key.ReadingsLockedAtUtc is null) return EnquiryStep.Against($"Lock the readings of {e.Name} before the key is opened.");
        return (e with { Key = e.Key with { OpenedAtUtc = now } }, [Finding.Note("A coupon excluded from now on does not change the verdict; it is shown beside it.")]);
    });

    private IEnumerable<Coupon> Own(Enquiry e) => e.ReferenceHeats.Concat(e.CandidateHeats).SelectMany(h => bench.Coupons(h)).Where(c => e.Coupons.Count == 0 || e.Coupons.Contains(c.Key));

    private static IEnumerable<Finding> FaultsOf(IReadOnlyDictionary<CouponKey, string> codes, Dictionary<CouponKey, Coupon> coupons)
    {
        foreach (CouponKey key in codes.Keys.Where(k => !coupons.ContainsKey(k))) yield return Finding.Fault($"Coupon {key} does not belong to the enquiry.");
        foreach (CouponKey key in coupons.Keys.Where(k => !codes.TryGetValue(k, out string? code) || string.IsNullOrWhiteSpace(code))) yield return Finding.Fault($"Coupon {key} has no code.");
        foreach (IGrouping<string, string> twice in codes.Values.GroupBy(c => c, StringComparer.OrdinalIgnoreCase).Where(g => g.Count() > 1)) yield return Finding.Fault($"Code {twice.Key} is given twice.");
    }
}
