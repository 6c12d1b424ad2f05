using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>Roles of heats.</summary>
/// <param name="Enquiry">Name of the enquiry.</param>
/// <param name="Reference">Heats in the reference role.</param>
/// <param name="Candidate">Heats in the candidate role.</param>
/// <param name="Coupons">Coupons that belong to the enquiry; empty means all of these heats.</param>
/// <param name="Why">Reason; needed once the rule is locked.</param>
/// <param name="RecordUnknown">True to record a heat that the bench does not know, by its name alone.</param>
public sealed record HeatRoles(string Enquiry, IReadOnlyList<string> Reference, IReadOnlyList<string> Candidate, IReadOnlyList<CouponKey> Coupons, string? Why = null, bool RecordUnknown = false);

/// <summary>Says which heats stand in which role, and which coupons are judged.</summary>
public sealed class ChooseHeats(IBench bench)
{
    /// <summary>Stores the roles.</summary>
    public Outcome<Enquiry> Run(HeatRoles roles, Hand hand)
    {
        Dictionary<string, Heat> heats = bench.Heats().ToDictionary(h => h.Name, StringComparer.Ordinal);
        Heat[] recorded = roles.RecordUnknown ? [.. roles.Reference.Concat(roles.Candidate).Distinct(StringComparer.Ordinal).Where(h => !heats.ContainsKey(h)).Select(h => new Heat(h, null, null, null))] : [];
        foreach (Heat heat in recorded) heats.Add(heat.Name, heat);
        return EnquiryStep.On(bench, roles.Enquiry, hand, roles.Why ?? "heats chosen", (enquiry, _) =>
        {
            List<Finding> findings = [.. FaultsOf(roles, heats)];
            if (enquiry.Lock is not null && string.IsNullOrWhiteSpace(roles.Why))
                findings.Add(Finding.Fault("The rule is locked. To change the heats now, give the reason; it will be shown beside the verdict."));
            if (roles.Reference.Concat(roles.Candidate).Select(h => heats.GetValueOrDefault(h)?.Source ?? h).Distinct().Count() == 1)
                findings.Add(Finding.Note("All these heats come from one source. The sources in general cannot be compared."));
            // What the lock says of the heats' sources held for the heats of then.
            bool same = enquiry.ReferenceHeats.SequenceEqual(roles.Reference) && enquiry.CandidateHeats.SequenceEqual(roles.Candidate);
            RuleLock? stamp = same ? enquiry.Lock : enquiry.Lock is { } l ? l with { OtherHeatsOfReference = null, OtherHeatsOfCandidate = null } : null;
            return (enquiry with { Lock = stamp, ReferenceHeats = [.. roles.Reference], CandidateHeats = [.. roles.Candidate], Coupons = [.. roles.Coupons] }, findings, [.. recorded.Select(h => new BenchChange.PutHeat(h))]);
        });
    }

    private IEnumerable<Finding> FaultsOf(HeatRoles roles, Dictionary<string, Heat> heats)
    {
        foreach (string heat in roles.Reference.Concat(roles.Candidate).Where(h => !heats.ContainsKey(h))) yield return Finding.Fault($"Heat {heat} is not on this bench. Record it first.");
        foreach (string heat in roles.Reference.Intersect(roles.Candidate, StringComparer.Ordinal)) yield return Finding.Fault($"Heat {heat} cannot be reference and candidate at once.");
        string[] all = [.. roles.Reference, .. roles.Candidate];
        HashSet<CouponKey> known = [.. all.Where(heats.ContainsKey).SelectMany(h => bench.Coupons(h)).Select(c => c.Key)];
        foreach (CouponKey coupon in roles.Coupons.Where(c => !known.Contains(c))) yield return Finding.Fault($"Coupon {coupon} is not one of the chosen heats' coupons.");
    }
}
