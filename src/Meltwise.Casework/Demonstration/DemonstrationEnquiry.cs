using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>One invented enquiry: two heats, two shared furnace loads, coupons under code, a locked rule.</summary>
internal sealed record DemonstrationEnquiry(
    string Name, string Title, string Purpose, Estimand Estimand, Margin Margin, string ReferenceHeat, string CandidateHeat, double CandidateCarbonOffset, int CouponsPerLot, DateOnly Asked, IReadOnlyList<OtherProperty>? Secondaries = null)
{
    private static readonly char[] s_letters = [.. "ACDEFHJKLMNPRTVWXY"];

    public static IReadOnlyList<DemonstrationEnquiry> All { get; } =
    [
        new("Q-07", "A second powder source for cold-forging punches", "Release of a second source for punches of 18 to 32 mm",
            Estimand.AsTested, new Margin.Ratio(0.80, 1.25), "U16", "D07", 0, 12, new(2026, 2, 3), [new("hardness", new Margin.Absolute(1, "HRC"))]),
        new("Q-08", "Is the spring delivery as tough as the last one?", "Incoming check with few coupons",
            Estimand.AsTested, new Margin.Ratio(1 / 1.15, 1.15), "U17", "D08", 0, 4, new(2026, 4, 14)),
        new("Q-09", "Tougher, or only softer?", "The candidate came out softer; the client asks whether it is the better steel",
            Estimand.EqualHardness, new Margin.Ratio(0.80, 1.25), "U18", "D09", -0.125, 12, new(2026, 6, 9)),
    ];

    public IEnumerable<BenchChange> Changes(NormalDraws draws, DemonstrationCoupons coupons, DemonstrationChemistry chemistry)
    {
        DemonstrationHeat reference = DemonstrationHeat.Make(ReferenceHeat, "Upriver", "powder", Asked.AddDays(-30), 0, draws);
        DemonstrationHeat candidate = DemonstrationHeat.Make(CandidateHeat, "Downriver", "powder", Asked.AddDays(-12), CandidateCarbonOffset, draws);
        DateOnly session = Asked.AddDays(35);
        Dictionary<string, double> loads = new(StringComparer.Ordinal)
        {
            [Name + "/1"] = draws.Next(0, PunchMakerModel.LoadSd),
            [Name + "/2"] = draws.Next(0, PunchMakerModel.LoadSd),
        };
        string[] codes = Codes(draws, 2 * CouponsPerLot);
        List<BenchChange> changes = [];
        List<CouponKey> keys = [];
        foreach ((DemonstrationHeat heat, int first) in new[] { (reference, 0), (candidate, CouponsPerLot) })
        {
            changes.Add(new BenchChange.PutHeat(heat.Record()));
            changes.Add(new BenchChange.PutHotHistory(heat.HotHistory()));
            changes.AddRange(chemistry.Of(heat, ownAnalysis: true));
            changes.AddRange(coupons.Series(heat, DemonstrationTreatment.Punch, "L", loads, CouponsPerLot, 1, session, codes[first..(first + CouponsPerLot)]));
        }
        keys.AddRange(changes.OfType<BenchChange.PutCoupon>().Select(c => c.Coupon.Key));
        return [.. InMixedOrder([.. DemonstrationCircumstances.Added(changes)]), new BenchChange.PutEnquiry(Record(keys, session))];
    }

    private Enquiry Record(IReadOnlyList<CouponKey> keys, DateOnly session)
    {
        SessionScatter? sessions = Estimand == Estimand.EqualHardness ? SessionScatter.Of(DemonstrationVerifications.HardnessTester, DemonstrationVerifications.All, Asked.AddDays(6)) : null;
        DecisionRule rule = new() { Property = "impact energy", Margin = Margin, Estimand = Estimand, PlannedCouponsPerLot = CouponsPerLot, TrendFamily = "powder high-speed", Secondaries = Secondaries, SessionSdHrc = sessions?.Offered, SessionSdFrom = sessions?.Origin };
        return new Enquiry
        {
            Name = Name,
            Title = Title,
            Purpose = Purpose,
            Client = "a maker of cold-forging punches (invented)",
            PaidBy = "the client",
            ReferenceHeats = [ReferenceHeat],
            CandidateHeats = [CandidateHeat],
            Coupons = keys,
            Rule = rule,
            Lock = new RuleLock(At(Asked.AddDays(6), 8), DemonstrationBench.Author, RuleText.Digest(rule)),
            Key = new BlindKey(At(Asked.AddDays(6), 9), At(session, 17), At(session, 18)),
            StagesUtc = new Dictionary<EnquiryStage, DateTime>
            {
                [EnquiryStage.Asked] = At(Asked, 10),
                [EnquiryStage.Planned] = At(Asked.AddDays(6), 8),
                [EnquiryStage.Treated] = At(Asked.AddDays(20), 15),
                [EnquiryStage.Tested] = At(session, 17),
            },
            Work = DemonstrationCircumstances.Work,
            Authoriser = DemonstrationBench.Author,
            ConflictsOfInterest = "none; all of it is invented",
            Deviations = "none recorded; no steel was tested",
            Notes = "Invented for the demonstration. No steel was tested.",
        };
    }

    /// <summary>Both lots broken in one drawn order, as a blind test is. Draws of its own, so that no value depends on it.</summary>
    private IEnumerable<BenchChange> InMixedOrder(IReadOnlyList<BenchChange> changes)
    {
        int[] order = [.. Enumerable.Range(1, 2 * CouponsPerLot)];
        new NormalDraws(Asked.DayNumber).Shuffle(order);
        int next = 0;
        return changes.Select(c => c is BenchChange.PutCoupon put ? put with { Coupon = put.Coupon with { Order = order[next++] } } : c);
    }

    private static DateTime At(DateOnly day, int hour) => day.ToDateTime(new TimeOnly(hour, 0), DateTimeKind.Utc);

    /// <summary>Three characters without look-alikes, none twice.</summary>
    private static string[] Codes(NormalDraws draws, int count)
    {
        HashSet<string> codes = new(StringComparer.Ordinal);
        while (codes.Count < count)
            codes.Add(new string([s_letters[draws.Whole(0, s_letters.Length - 1)], (char)('2' + draws.Whole(0, 7)), s_letters[draws.Whole(0, s_letters.Length - 1)]]));
        return [.. codes];
    }
}
