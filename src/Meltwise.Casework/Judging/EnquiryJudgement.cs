using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>Judges an enquiry of a bench: gathers its lots, the history, the standing of its rule, the verifications and the earlier pairs, and gives the verdict with the change that keeps it.</summary>
public static class EnquiryJudgement
{
    /// <summary>Kind of the stored document.</summary>
    public const string DocumentKind = "verdict";

    /// <summary>The verdict of an enquiry.</summary>
    /// <exception cref="ComparisonFaultException">The enquiry has no rule or no heats yet, or the comparison cannot be set up.</exception>
    public static Verdict Judge(IBench bench, Enquiry enquiry, CancellationToken cancel = default) => Comparison.Judge(Gather(bench, enquiry), cancel);

    /// <summary>The stored verdict, or null when there is none.</summary>
    /// <exception cref="ComparisonFaultException">It was written by another version.</exception>
    public static Verdict? Stored(IBench bench, string enquiry) => bench.FindDocument(enquiry, DocumentKind) is { } document ? VerdictJson.Read(document.Json) : null;

    /// <summary>The changes that keep a verdict: the document, and the stage of the enquiry.</summary>
    public static IReadOnlyList<BenchChange> Keep(Enquiry enquiry, Verdict verdict, DateTime nowUtc)
    {
        BenchChange document = new BenchChange.PutDocument(new StoredDocument(enquiry.Name, DocumentKind, VerdictJson.Write(verdict), nowUtc));
        if (verdict.Finding.Outcome == Outcome.NoVerdict || enquiry.StagesUtc.ContainsKey(EnquiryStage.Judged)) return [document];
        Dictionary<EnquiryStage, DateTime> stages = new(enquiry.StagesUtc) { [EnquiryStage.Judged] = nowUtc };
        return [document, new BenchChange.PutEnquiry(enquiry with { StagesUtc = stages })];
    }

    /// <summary>All that the verdict is made from, as the bench has it now.</summary>
    public static ComparisonInput Gather(IBench bench, Enquiry enquiry)
    {
        DecisionRule rule = enquiry.Rule ?? throw new ComparisonFaultException($"Enquiry {enquiry.Name} has no rule yet. Agree property, question and margin first.");
        if (enquiry.ReferenceHeats.Count == 0 || enquiry.CandidateHeats.Count == 0)
            throw new ComparisonFaultException($"Enquiry {enquiry.Name} does not yet name a heat in both roles. Choose its heats first.");
        PropertyTables first = Tables(bench, enquiry, rule.Property);
        Dictionary<string, PropertyTables> others = rule.OtherProperties().Select(o => o.Property.Property).Where(p => p != rule.Property).Distinct()
            .ToDictionary(p => p, p => Tables(bench, enquiry, p), StringComparer.Ordinal);
        return new ComparisonInput
        {
            Lots = first.Lots,
            History = first.History,
            HistoryChangedSinceLock = enquiry.Lock is not null && rule.HistoryDigest is { } locked
                && HistoryDigest.Of(others.Select(o => (o.Key, (IEnumerable<CouponRow>)o.Value.History!.Rows)).Prepend((rule.Property, first.History!.Rows))) != locked,
            Rule = rule,
            ReferenceHeats = enquiry.ReferenceHeats,
            CandidateHeats = enquiry.CandidateHeats,
            Standing = StandingOf(enquiry),
            OtherHeatsOfReferenceAtLock = enquiry.Lock?.OtherHeatsOfReference,
            OtherHeatsOfCandidateAtLock = enquiry.Lock?.OtherHeatsOfCandidate,
            UnverifiedInstruments = first.UnverifiedInstruments,
            OtherTables = others,
            InstrumentNotes = [.. ReadingsInDoubt.Say(ReadingsInDoubt.OfCoupons(bench, first.Lots.Rows))],
            HardnessSessions = SessionScatter.OfHardness(bench, [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats]),
            TrendGrades = rule.TrendFamily is { } family ? [.. bench.Grades().Where(g => g.Family == family).Select(g => g.Name)] : [],
            EarlierPairs = [.. bench.Enquiries().Where(e => e.Name != enquiry.Name && e.Lock is not null && e.Rule?.Property == rule.Property).Select(e => Pair(bench, e)).OfType<EarlierPair>()],
        };
    }

    /// <summary>The coupons of the enquiry and the history as they stand for one property: state, instrument and day are those of its own test.</summary>
    private static PropertyTables Tables(IBench bench, Enquiry enquiry, string property)
    {
        HashSet<string> heats = new([.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats], StringComparer.Ordinal);
        CouponSelection all = new(Heats: heats, Coupons: enquiry.Coupons.Count > 0 ? [.. enquiry.Coupons] : null, Enquiry: enquiry.Name);
        CouponTable lots = bench.CouponTable(all);
        Dictionary<CouponKey, CouponRow> read = bench.CouponTable(all with { Property = property }).Rows.ToDictionary(r => new CouponKey(r.Heat, r.Coupon));
        lots = lots with { Name = "the enquiry", Rows = [.. lots.Rows.Select(r => read.GetValueOrDefault(new(r.Heat, r.Coupon), r))] };
        CouponTable history = bench.CouponTable(new CouponSelection(Property: property));
        return new(lots, history with { Rows = [.. history.Rows.Where(r => !heats.Contains(r.Heat))], Name = "the bench" }, Unverified(bench, lots));
    }

    private static RuleStanding StandingOf(Enquiry enquiry) => (enquiry.Lock, enquiry.Amendments) switch
    {
        (null, _) => new RuleStanding.Unlocked(),
        ({ AfterReadings: true } late, []) => new RuleStanding.LockedLate(late.AtUtc, late.Digest),
        ({ } locked, []) => new RuleStanding.Locked(locked.AtUtc, locked.Digest),
        ({ } locked, [.., var last]) => new RuleStanding.Amended(locked.AtUtc, last.AtUtc, last.DigestAfter, last.Reason, enquiry.Amendments.Count),
    };

    /// <summary>Instruments of the property that were not in verification on the day of the test, in words. An instrument without any record is unknown, not failed.</summary>
    private static IReadOnlyList<string> Unverified(IBench bench, CouponTable lots)
    {
        ILookup<string, Verification> kept = bench.Verifications().ToLookup(v => v.Instrument, StringComparer.Ordinal);
        return [.. lots.Rows.Where(r => r is { Instrument: not null, Date: not null }).Select(r => (Instrument: r.Instrument!, Day: r.Date!.Value)).Distinct()
            .Select(use => (use.Instrument, use.Day, Standing: VerificationStanding.On(kept[use.Instrument], use.Day))).Where(use => !use.Standing.MayBeUsed)
            .Select(use => string.Create(CultureInfo.InvariantCulture, $"{use.Instrument} on {use.Day:yyyy-MM-dd} ({use.Standing.Why})"))];
    }

    /// <summary>The effect that an earlier enquiry found, or null when it has no verdict that this version can read.</summary>
    private static EarlierPair? Pair(IBench bench, Enquiry enquiry)
    {
        try
        {
            return Stored(bench, enquiry.Name) is { } verdict ? PairsStep.EffectOf(verdict, enquiry.Name) : null;
        }
        catch (ComparisonFaultException)
        {
            return null;
        }
    }
}
