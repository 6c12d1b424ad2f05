using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Storage;

namespace Meltwise.Cli.Commands;

/// <summary>Enquiries of a bench, by the name given on the command line.</summary>
internal static class EnquiryAccess
{
    /// <summary>The enquiry, or a fault that names those there are.</summary>
    public static Enquiry Find(Bench bench, string name) => bench.FindEnquiry(name)
        ?? throw Fault.Input($"There is no enquiry {name} on {bench.Card.Place}. It holds {string.Join(", ", bench.Enquiries().Select(e => e.Name).DefaultIfEmpty("none"))}.");

    /// <summary>Judges an enquiry and keeps the verdict on the bench.</summary>
    public static Verdict Judge(Bench bench, string name, CancellationToken cancel)
    {
        Enquiry enquiry = Find(bench, name);
        Verdict verdict = EnquiryJudgement.Judge(bench, enquiry, cancel);
        bench.Commit(Environment.UserName, null, EnquiryJudgement.Keep(enquiry, verdict, DateTime.UtcNow));
        return verdict;
    }
}
