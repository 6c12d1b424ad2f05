using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>Stamps of the stages of an enquiry.</summary>
internal static class Stages
{
    /// <summary>The stamps with the stage reached now; a stage reached before keeps its stamp.</summary>
    public static IReadOnlyDictionary<EnquiryStage, DateTime> Reached(Enquiry enquiry, EnquiryStage stage, DateTime nowUtc)
    {
        var stamps = new Dictionary<EnquiryStage, DateTime>(enquiry.StagesUtc);
        stamps.TryAdd(stage, nowUtc);
        return stamps;
    }
}
