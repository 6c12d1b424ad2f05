using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>One step on an enquiry: find it, see what stands against the step, store its new state.</summary>
internal static class EnquiryStep
{
    /// <summary>Takes the step. The function gives the new state (null when something stands against it) with its findings.</summary>
    public static Outcome<Enquiry> On(IBench bench, string name, Hand hand, string why, Func<Enquiry, DateTime, (Enquiry? After, IReadOnlyList<Finding> Findings)> step) =>
        On(bench, name, hand, why, (e, at) =>
        {
            (Enquiry? after, IReadOnlyList<Finding> findings) = step(e, at);
            return (after, findings, []);
        });

    /// <summary>The same, with other changes that belong in the same transaction.</summary>
    public static Outcome<Enquiry> On(
        IBench bench, string name, Hand hand, string why, Func<Enquiry, DateTime, (Enquiry? After, IReadOnlyList<Finding> Findings, IReadOnlyList<BenchChange> Others)> step)
    {
        if (bench.FindEnquiry(name) is not { } enquiry) return Outcome<Enquiry>.Refused($"There is no enquiry {name} on this bench.");
        (Enquiry? after, IReadOnlyList<Finding> findings, IReadOnlyList<BenchChange> others) = step(enquiry, hand.NowUtc);
        if (after is null || findings.Any(f => f.Weight == FindingWeight.Fault)) return new(null, findings);
        bench.Commit(hand.By, why, [.. others, new BenchChange.PutEnquiry(after)]);
        return new(after, findings);
    }

    /// <summary>A step that something stands against.</summary>
    public static (Enquiry?, IReadOnlyList<Finding>) Against(string fault) => (null, [Finding.Fault(fault)]);
}
