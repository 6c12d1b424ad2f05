using Meltwise.Casework.Judging;
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
            Verdict verdict = EnquiryJudgement.Judge(desk.Bench, view.Enquiry);
            return desk.TryCommit(null, EnquiryJudgement.Keep(view.Enquiry, verdict, DateTime.UtcNow));
        }
        catch (ComparisonFaultException fault)
        {
            return fault.Message;
        }
    }
}
