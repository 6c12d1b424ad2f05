using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Page;

namespace Meltwise.Web.Enquiries;

/// <summary>Gives the verdict of an enquiry and stores it with the stamp of the stage.</summary>
internal static class VerdictGiving
{
    /// <summary>Judges and stores.</summary>
    /// <returns>Null when it is stored, otherwise what to tell the person.</returns>
    public static string? Give(Desk desk, EnquiryView view)
    {
        try
        {
            Enquiry enquiry = view.Enquiry;
            DateTime now = DateTime.UtcNow;
            string[] heats = [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats];
            Verdict verdict = Comparison.Judge(new ComparisonInput
            {
                Lots = desk.Bench.CouponTable(new CouponSelection(heats, enquiry.Coupons.Count == 0 ? null : enquiry.Coupons, null, enquiry.Name)),
                History = desk.Bench.CouponTable(new CouponSelection(Property: enquiry.Rule!.Property)),
                Rule = enquiry.Rule,
                ReferenceHeats = enquiry.ReferenceHeats,
                CandidateHeats = enquiry.CandidateHeats,
                Standing = enquiry.Lock is { } stamp ? new RuleStanding.Locked(stamp.AtUtc, stamp.Digest) : new RuleStanding.Unlocked(),
            });
            return desk.TryCommit(null,
                new BenchChange.PutDocument(new StoredDocument(enquiry.Name, "verdict", VerdictJson.Write(verdict), now)),
                new BenchChange.PutEnquiry(enquiry with { StagesUtc = Stages.Reached(enquiry, EnquiryStage.Judged, now) }));
        }
        catch (ComparisonFaultException fault)
        {
            return fault.Message;
        }
    }
}
