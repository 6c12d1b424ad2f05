using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>Names who did which part of an enquiry's work, who authorises its report, and what interests might bear on the result.</summary>
/// <remarks>What ISO/IEC 17025:2017, 4.1, 7.8.2.1 and 7.8.2.2 ask a report to make plain (from memory): impartiality, authorisation, results from outside.</remarks>
public sealed class NameWork(IBench bench)
{
    /// <summary>Replaces what was named before.</summary>
    /// <param name="enquiry">Name of the enquiry.</param>
    /// <param name="work">Parts of the work; each with who did it.</param>
    /// <param name="authoriser">Who authorises the report.</param>
    /// <param name="conflictsOfInterest">In words, also that there are none.</param>
    /// <param name="hand">Who.</param>
    public Outcome<Enquiry> Run(string enquiry, IReadOnlyList<PartOfWork> work, string? authoriser, string? conflictsOfInterest, Hand hand) =>
        EnquiryStep.On(bench, enquiry, hand, "people of the enquiry named", (e, _) =>
        {
            if (work.FirstOrDefault(w => string.IsNullOrWhiteSpace(w.Task) || string.IsNullOrWhiteSpace(w.By)) is { } half)
                return EnquiryStep.Against($"“{half.Task}{half.By}” names a task without a person, or a person without a task. Give both.");
            return (e with { Work = [.. work], Authoriser = authoriser, ConflictsOfInterest = conflictsOfInterest }, []);
        });
}
