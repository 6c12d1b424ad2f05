using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>The words of an enquiry.</summary>
/// <param name="Name">Short name, unique.</param>
/// <param name="Title">The question as the client would put it.</param>
/// <param name="Client">Who asked.</param>
/// <param name="PaidBy">Who pays; printed in the report.</param>
/// <param name="Purpose">What the answer is for.</param>
/// <param name="WaitsOn">Whom it waits on.</param>
/// <param name="Notes">Free text.</param>
public sealed record EnquiryWords(
    string Name, string Title, string? Client = null, string? PaidBy = null, string? Purpose = null, string? WaitsOn = null, string? Notes = null);

/// <summary>Writes down an enquiry, or changes its words.</summary>
public sealed class WriteEnquiry(IBench bench)
{
    /// <summary>Makes a new enquiry.</summary>
    public Outcome<Enquiry> New(EnquiryWords words, Hand hand)
    {
        string[] faults = [.. FaultsOf(words)];
        if (faults.Length > 0) return Outcome<Enquiry>.Refused(faults);
        if (bench.FindEnquiry(words.Name) is { } there) return Outcome<Enquiry>.Refused($"There is an enquiry {words.Name} already: {there.Title}. Give another name, or open that one.");
        Enquiry enquiry = Worded(new() { Name = words.Name, Title = words.Title }, words) with { StagesUtc = new Dictionary<EnquiryStage, DateTime> { [EnquiryStage.Asked] = hand.NowUtc } };
        bench.Commit(hand.By, null, [new BenchChange.PutEnquiry(enquiry)]);
        return Outcome<Enquiry>.Stored(enquiry);
    }

    /// <summary>Changes the words of an enquiry; its rule, roles and stamps stay.</summary>
    public Outcome<Enquiry> Change(EnquiryWords words, Hand hand)
    {
        string[] faults = [.. FaultsOf(words)];
        if (faults.Length > 0) return Outcome<Enquiry>.Refused(faults);
        return EnquiryStep.On(bench, words.Name, hand, "words of the enquiry changed", (enquiry, _) => (Worded(enquiry, words), []));
    }

    private static Enquiry Worded(Enquiry enquiry, EnquiryWords words) => enquiry with
    {
        Title = words.Title.Trim(),
        Client = words.Client,
        PaidBy = words.PaidBy,
        Purpose = words.Purpose,
        WaitsOn = words.WaitsOn,
        Notes = words.Notes,
    };

    private static IEnumerable<string> FaultsOf(EnquiryWords words)
    {
        if (string.IsNullOrWhiteSpace(words.Name)) yield return "The enquiry has no name. Give a short one, e.g. E-118.";
        if (string.IsNullOrWhiteSpace(words.Title)) yield return "The question is empty. Write it as the client would put it.";
    }
}
