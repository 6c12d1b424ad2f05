using Meltwise.Casework.Asking;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>The lines on which the people of an enquiry are named: one part of the work a line, as <c>task: who</c>, with <c>outside</c> behind a comma for work done elsewhere.</summary>
public sealed class PeopleForm
{
    private const string Outside = "outside";

    public string? Work { get; set; }

    public string? Authoriser { get; set; }

    public string? Interests { get; set; }

    public string? Deviations { get; set; }

    /// <summary>The form filled with what is recorded.</summary>
    public static PeopleForm Of(Enquiry enquiry) => new()
    {
        Work = string.Join('\n', enquiry.Work.Select(w => $"{w.Task}: {w.By}{(w.IsOutside ? $", {Outside}" : "")}")),
        Authoriser = enquiry.Authoriser,
        Interests = enquiry.ConflictsOfInterest,
        Deviations = enquiry.Deviations,
    };

    /// <summary>What is to stand, or the line that cannot be read.</summary>
    public (WorkWords? Words, string? Fault) Read()
    {
        List<PartOfWork> work = [];
        foreach (string line in (Work ?? "").Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            int colon = line.IndexOf(':', StringComparison.Ordinal);
            if (colon <= 0)
            {
                return (null, $"“{line}” does not part the work from who did it. Write it as impact tests: A. Tester. Nothing was stored.");
            }

            string by = line[(colon + 1)..].Trim();
            bool elsewhere = by.EndsWith(", " + Outside, StringComparison.OrdinalIgnoreCase);
            work.Add(new(line[..colon].Trim(), elsewhere ? by[..^(Outside.Length + 2)].Trim() : by, elsewhere));
        }

        return (new(work, Said(Authoriser), Said(Interests), Said(Deviations)), null);
    }

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
