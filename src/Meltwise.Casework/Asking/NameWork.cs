using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>What the report of an enquiry says of the work: who did which part, who authorises it, what interests might bear on it, what deviated from the methods.</summary>
public sealed record WorkWords(IReadOnlyList<PartOfWork> Work, string? Authoriser = null, string? ConflictsOfInterest = null, string? Deviations = null);

/// <summary>Names who did which part of an enquiry's work, who authorises its report, what interests might bear on the result, and deviations.</summary>
/// <remarks>What ISO/IEC 17025:2017, 4.1, 7.8.2.1 and 7.8.2.2 ask a report to make plain (from memory): impartiality, authorisation, results from outside.</remarks>
public sealed class NameWork(IBench bench)
{
    /// <summary>Replaces what was named before.</summary>
    /// <param name="enquiry">Name of the enquiry.</param>
    /// <param name="words">What is to stand.</param>
    /// <param name="hand">Who.</param>
    public Outcome<Enquiry> Run(string enquiry, WorkWords words, Hand hand) =>
        EnquiryStep.On(bench, enquiry, hand, "people of the enquiry named", (e, _) =>
        {
            if (words.Work.FirstOrDefault(w => string.IsNullOrWhiteSpace(w.Task) || string.IsNullOrWhiteSpace(w.By)) is { } half)
                return EnquiryStep.Against($"“{half.Task}{half.By}” names a task without a person, or a person without a task. Give both.");
            return (e with { Work = [.. words.Work], Authoriser = words.Authoriser, ConflictsOfInterest = words.ConflictsOfInterest, Deviations = words.Deviations }, []);
        });
}
