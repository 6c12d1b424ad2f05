using System.Globalization;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>A series of coupons to be made for an enquiry.</summary>
/// <param name="Enquiry">Name of the enquiry.</param>
/// <param name="CouponsPerHeat">Coupons of every heat, spares included.</param>
/// <param name="Loads">Furnace loads.</param>
/// <param name="LoadCapacity">Coupons that fit into one load; null when all fit.</param>
/// <param name="Seed">Seed of the allocation. The first seed from here on whose codes are all new to the bench is taken, and named in the trail.</param>
/// <param name="IsBlind">True to engrave codes and to seal the key.</param>
/// <param name="Geometry">Size and notch; null means unknown.</param>
/// <param name="Orientation">Direction in the product; null means unknown.</param>
public sealed record CouponPlan(string Enquiry, int CouponsPerHeat, int Loads, int? LoadCapacity, long Seed, bool IsBlind, string? Geometry = null, string? Orientation = null);

/// <summary>Makes the coupons of an enquiry: dealt to loads and to the order of testing by <see cref="Allocating"/>, under codes if wanted, all in one transaction.</summary>
public sealed class AllocateCoupons(IBench bench)
{
    /// <summary>Makes them. A plan that cannot tell the sides from the loads is refused with the way out.</summary>
    public Outcome<Enquiry> Run(CouponPlan plan, Hand hand)
    {
        Enquiry? asked = bench.FindEnquiry(plan.Enquiry);
        string[] heats = asked is null ? [] : [.. asked.ReferenceHeats, .. asked.CandidateHeats];
        if (asked is not null && (asked.ReferenceHeats.Count == 0 || asked.CandidateHeats.Count == 0))
            return Outcome<Enquiry>.Refused($"{asked.Name} has no heat in the {(asked.ReferenceHeats.Count == 0 ? "reference" : "candidate")} role. Choose the heats first.");
        Allocation? allocation;
        try
        {
            allocation = asked is null ? null : Allocate(plan, asked, heats.Length);
        }
        catch (AllocationRefusedException refused)
        {
            return Outcome<Enquiry>.Refused(refused.Message);
        }
        string why = $"coupons allocated by seeded permuted blocks, seed {(allocation?.Seed ?? plan.Seed).ToString(CultureInfo.InvariantCulture)}";
        return EnquiryStep.On(bench, plan.Enquiry, hand, why, (enquiry, now) =>
        {
            if (plan.IsBlind && enquiry.Key?.OpenedAtUtc is not null)
                return (null, [Finding.Fault($"The key of {enquiry.Name} is open; coupons made now cannot be tested blind in this enquiry.")], []);
            Coupon[] there = [.. heats.SelectMany(h => bench.Coupons(h)).Where(c => enquiry.Coupons.Count == 0 || enquiry.Coupons.Contains(c.Key))];
            Coupon[] made = [.. Coupons(plan, allocation!, there)];
            Enquiry after = enquiry with
            {
                Coupons = [.. there.Select(c => c.Key), .. made.Select(c => c.Key)],
                Key = plan.IsBlind ? enquiry.Key ?? new BlindKey(now) : enquiry.Key,
            };
            return (after, [.. allocation!.Notes.Select(Finding.Note)], [.. made.Select(c => new BenchChange.PutCoupon(c))]);
        });
    }

    private Allocation Allocate(CouponPlan plan, Enquiry enquiry, int heats)
    {
        HashSet<string> used = [.. bench.Coupons().Select(c => c.Code).OfType<string>()];
        AllocationRequest request = new()
        {
            Heats = [.. enquiry.ReferenceHeats.Select(h => new AllocatedHeat(h, false, plan.CouponsPerHeat)), .. enquiry.CandidateHeats.Select(h => new AllocatedHeat(h, true, plan.CouponsPerHeat))],
            Loads = plan.Loads,
            Capacity = plan.LoadCapacity ?? Math.Max(2, plan.CouponsPerHeat * heats),
            Seed = plan.Seed,
        };
        Allocation allocation = Allocating.Of(request);
        while (plan.IsBlind && allocation.Coupons.Any(c => used.Contains(c.Code)))
        {
            request = request with { Seed = request.Seed + 1 };
            allocation = Allocating.Of(request);
        }
        return allocation;
    }

    /// <summary>The coupons, numbered on from those of their heat, in loads and in an order that follow those of the enquiry.</summary>
    private IEnumerable<Coupon> Coupons(CouponPlan plan, Allocation allocation, Coupon[] there)
    {
        Dictionary<string, int> last = allocation.Coupons.Select(c => c.Heat).Distinct().ToDictionary(h => h, h => Last(bench.Coupons(h).Select(c => c.Name)), StringComparer.Ordinal);
        (int load, int order, int hardness) = (Last(there.Select(c => c.Load)), there.Max(c => c.Order) ?? 0, there.Max(c => c.HardnessOrder) ?? 0);
        return allocation.InBreakOrder.Select(c => new Coupon(
            c.Heat, Text(last[c.Heat] + c.Blank), plan.Orientation, plan.Geometry, null, Text(load + c.Load), order + c.BreakOrder, plan.IsBlind ? c.Code : null, HardnessOrder: hardness + c.HardnessOrder));
    }

    private static int Last(IEnumerable<string?> numbers) => numbers.Select(n => int.TryParse(n, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : 0).DefaultIfEmpty(0).Max();

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
